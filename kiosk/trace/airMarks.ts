import type { ZoneContext, ZoneReading } from '../../machines/climate/context.ts'
import { STALE_MS } from '../../machines/clock/line.ts'
import { dewPointC } from '../../machines/clock/moistAir.ts'
import { PART_HOLD_MS } from '../../machines/panel/climate.ts'
import { DEW_MARGIN_C } from '../../machines/shop/settings.ts'
import type { Span } from './axis.ts'
import type { Mark } from './mark.ts'

/** Readings of a zone while something was in it, and where nobody read: never a line across. Pure. */

type Air = Pick<ZoneContext, 'readings' | 'movers'>
type Held = {
  readonly at: number
  readonly forMs: number
  readonly mark: Omit<Mark, 'from' | 'to'>
}

/** Marks that each hold until the next or as long as they count, and the gaps between them. */
function held(row: string, what: string, all: readonly Held[], { from, to }: Span): Mark[] {
  const gap = (a: number, b: number): Mark[] =>
    b - a < 60_000
      ? []
      : [{ row, kind: 'gap', from: a, to: b, entry: null, what, flags: ['notRecorded'] }]
  const shown = all.filter(({ at, forMs }) => at + forMs > from && at < to)
  const found: Mark[] = []
  let known = from
  for (const [i, { at, forMs, mark }] of shown.entries()) {
    const begins = Math.max(at, from)
    const until = Math.min(shown[i + 1]?.at ?? Number.POSITIVE_INFINITY, at + forMs, to)
    found.push(...gap(known, begins), { ...mark, from: begins, to: until })
    known = Math.max(known, until)
  }
  return [...found, ...gap(known, to)]
}

/** Temperature and humidity of a zone, and when its air movers ran. @param span of the job, UTC ms */
export function airMarks(zone: string, { readings, movers = [] }: Air, span: Span): Mark[] {
  const row = `air ${zone}`
  const of = { row, entry: null, what: zone, flags: [] }
  const all = readings.map(({ at, airC, rh, surfaceC }): Held => {
    const numbers = [airC, rh, surfaceC ?? null]
    return { at, forMs: STALE_MS, mark: { ...of, kind: 'air', numbers } }
  })
  const ran = movers.flatMap(({ at, isOn }, i): Mark[] => {
    const from = Math.max(at, span.from)
    const to = Math.min(movers[i + 1]?.at ?? span.to, span.to)
    return isOn && to > from ? [{ ...of, kind: 'movers', from, to }] : []
  })
  return [...held(row, zone, all, span), ...ran]
}

const marginC = ({ airC, rh, surfaceC }: ZoneReading): number | null =>
  surfaceC === undefined ? null : surfaceC - dewPointC(airC, rh)

/**
 * How far a surface was above the dew point of the air around it, °C, as long as the reading of it holds.
 * A zone whose air was never read has no row of it: its air already says that nothing is recorded.
 * @param limitC the least that the shop works with
 */
export function dewMarks(
  zone: string,
  { readings }: Air,
  span: Span,
  limitC: number = DEW_MARGIN_C,
): Mark[] {
  const row = `dew ${zone}`
  if (!readings.some(({ at }) => at + STALE_MS > span.from && at < span.to)) return []
  const all = readings.flatMap((reading): Held[] => {
    const margin = marginC(reading)
    if (margin === null) return []
    const flags: Mark['flags'] = margin < limitC ? ['under'] : []
    const numbers = [margin, limitC]
    const mark: Held['mark'] = { row, kind: 'dew', entry: null, what: zone, numbers, flags }
    return [{ at: reading.at, forMs: PART_HOLD_MS, mark }]
  })
  return held(row, zone, all, span)
}
