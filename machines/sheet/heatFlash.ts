import type { Interval } from '../clock/line.ts'
import type { State } from '../state.ts'
import { sheetAt } from './fold.ts'
import { type CureOfOne, curesIn, curesOf, type Opens } from './intervals.ts'

/**
 * The flash before heat, and what is done where nobody has typed it: it is not known, which is never
 * zero, and is asked for before its first use. It is typed on the sheet. A coat that was sprayed before
 * that takes it from there; one whose sheet had it keeps the figure of its day.
 */

export const HEATS = ['bake', 'infrared'] as const
export type Heat = (typeof HEATS)[number]

export const waitsIn = (cures: readonly CureOfOne[], heat: Heat): (Interval | undefined)[] =>
  cures.flatMap(({ bake, infrared }) =>
    heat === 'bake'
      ? bake.map(({ flashBefore }) => flashBefore)
      : infrared
        ? [infrared.flashBefore]
        : [],
  )

/** All of them, or null where one is not known. */
export function allKnown(waits: readonly (Interval | undefined)[]): Interval[] | null {
  const known = waits.filter((wait) => wait !== undefined)
  return known.length === waits.length ? known : null
}

/**
 * What a film waits for before a kind of heat, of which the longest binds.
 * @returns none for a product without such a cure; null where a figure is not known
 */
export function heatWaits(state: State, { sheet, cure }: Opens, heat: Heat): Interval[] | null {
  const own = waitsIn(curesOf(cure), heat)
  const known = allKnown(own)
  if (known) return known
  const latest = sheetAt(state, sheet, Number.MAX_SAFE_INTEGER)?.sheet
  const typed = latest ? waitsIn(curesIn(latest), heat) : []
  const since = typed.length > 0 ? allKnown(typed) : null
  return since && [...own.filter((wait) => wait !== undefined), ...since]
}
