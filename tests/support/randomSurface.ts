import type { Sheet } from '../../machines/sheet/schema.ts'
import type { Answer3 } from './randomGates.ts'
import { isBaked } from './randomHeat.ts'
import type { Scene } from './randomJudge.ts'

/** What a part is taken to have that nobody measured, and how warm it may be, by a second calculation. */

const TWO_HOURS_MS = 2 * 3_600_000
const HALF_HOUR_MS = 30 * 60_000
/** Of hundredths. */
const HAIR = 1e-9

/**
 * The surface of a part, °C, in air that was just read.
 * @returns null where it does not stand there long enough and was not baked there today
 */
export function assumedC(
  { world, panel, known, zone, claim }: Pick<Scene, 'world' | 'panel' | 'known' | 'zone' | 'claim'>,
  airC: number,
): number | null {
  const at = claim.startAt
  const day = new Date(at).toDateString()
  const isBakedToday = (panel.heats ?? []).some(
    (h) =>
      h.mode === 'bake' &&
      h.toMs <= at &&
      new Date(h.toMs).toDateString() === day &&
      panel.stays.findLast((s) => s.fromMs <= h.fromMs)?.zone === zone,
  )
  if (isBakedToday) return airC - 1
  const sinceMs = at - TWO_HOURS_MS
  const [first] = world.stays
  if (!first || first.fromMs > sinceMs) return null
  for (const [i, stay] of world.stays.entries()) {
    const fromMs = Math.max(stay.fromMs, sinceMs)
    const next = world.stays[i + 1]
    const toMs = Math.min(next?.fromMs ?? Infinity, at)
    if (stay.fromMs > at || (next && next.fromMs <= sinceMs)) continue
    const there = panel.stays[i]?.zone ?? ''
    const read = stay.readings.filter((r) => r.at <= toMs && !isBaked(known, there, r.at))
    if (read.some((r) => r.at > fromMs && r.airC < airC - 3 - HAIR)) return null
    const left = read.at(-1)
    const isLeft = next !== undefined && next.fromMs <= at
    const isSame = left && toMs - left.at < HALF_HOUR_MS && Math.abs(left.airC - airC) <= 3 + HAIR
    if (isLeft && !isSame) return null
  }
  return airC - 1
}

/** Whether a part is outside the sheet's limits, or the usual ones and their marks. */
export function partTemp(sheet: Sheet | undefined, partC: number | null): Answer3 {
  if (!sheet || partC === null) return 'no'
  const isSensitive =
    sheet.medium === 'waterborne' ||
    sheet.activators.length > 0 ||
    sheet.components.some((c) => c.role === 'activator')
  const { minPartC = isSensitive ? 15 : -Infinity, maxPartC = isSensitive ? 35 : Infinity } =
    sheet.limits
  return partC < minPartC || partC > maxPartC ? 'yes' : 'no'
}
