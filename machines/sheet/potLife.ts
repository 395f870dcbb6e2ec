import type { Point } from '../clock/interval.ts'
import type { Interval } from '../clock/line.ts'
import type { SheetOption } from './cureSchema.ts'
import { figures } from './intervals.ts'
import type { Sheet } from './schema.ts'

/** How long a mix lives, by its sheet and by what was put into it. */

/** The pot lives that run once the activator is in: none for a product without pot life. */
export function potLives(sheet: Sheet, options: readonly SheetOption[]): Interval[] {
  const factor = factorOf(options)
  return figures(options, (o) => o.potLife, sheet.potLife)
    .filter((points) => points !== null)
    .map((points) => ({
      kind: 'notAfter',
      points: factor === 1 ? points : stretched(points, factor),
      nearWhenBlind: true,
    }))
}

/** By how much additives stretch or shorten a pot life, all together. */
export const factorOf = (options: readonly SheetOption[]): number =>
  options.reduce(
    (factor, one) => factor * (('potLifeFactor' in one ? one.potLifeFactor : undefined) ?? 1),
    1,
  )

/** Points of which every length is so many times as long. */
export const stretched = (points: readonly Point[], factor: number): readonly Point[] =>
  points.map(({ atC, minutes }) => ({ atC, minutes: minutes * factor }))
