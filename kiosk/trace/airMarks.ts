import type { ZoneReading } from '../../machines/climate/context.ts'
import { STALE_MS } from '../../machines/clock/line.ts'
import type { Mark } from './mark.ts'

/** Readings of a zone while something was in it, and where nobody read: never a line across. */
export function airMarks(
  zone: string,
  readings: readonly ZoneReading[],
  from: number,
  to: number,
): Mark[] {
  const row = `air ${zone}`
  const gap = (a: number, b: number): Mark[] =>
    b - a < 60_000
      ? []
      : [{ row, kind: 'gap', from: a, to: b, entry: null, what: zone, flags: ['notRecorded'] }]
  const shown = readings.filter(({ at }) => at + STALE_MS > from && at < to)
  const found: Mark[] = []
  let known = from
  for (const [i, { at, airC, rh, surfaceC }] of shown.entries()) {
    const begins = Math.max(at, from)
    found.push(...gap(known, begins))
    const until = Math.min(shown[i + 1]?.at ?? Number.POSITIVE_INFINITY, at + STALE_MS, to)
    const numbers = [airC, rh, surfaceC ?? null]
    found.push({
      row,
      kind: 'air',
      from: begins,
      to: until,
      entry: null,
      what: zone,
      numbers,
      flags: [],
    })
    known = Math.max(known, until)
  }
  return [...found, ...gap(known, to)]
}
