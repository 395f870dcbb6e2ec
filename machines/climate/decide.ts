import { lastBefore } from '../clock/line.ts'
import type { CommandData } from '../commands.ts'
import type { Deciding, Decision } from '../deciding.ts'
import { readingsOf, type ZoneReading } from './fold.ts'

const KEEP_MS = 600_000
const SAME_C = 0.2
const SAME_RH = 0.01
// Sums such as 20.2 - 20 come out a hair above 0.2; a sensor's last digit is far coarser than this.
const HAIR = 1e-9

const isNear = (a: number | undefined, b: number | undefined, within: number): boolean =>
  a === undefined || b === undefined ? a === b : Math.abs(a - b) <= within + HAIR

/** A reading that says nothing new: near the last one kept, and that one under 10 min older. */
function isRepeated(
  last: ZoneReading | undefined,
  at: number,
  now: CommandData<'ReadClimate'>,
): boolean {
  return (
    last !== undefined &&
    at - last.at < KEEP_MS &&
    isNear(last.airC, now.airC, SAME_C) &&
    isNear(last.rh, now.rh, SAME_RH) &&
    isNear(last.surfaceC, now.surfaceC, SAME_C)
  )
}

/** A sensor speaks every minute; what repeats the last reading is answered and not recorded. */
export function readClimate(d: Deciding<'ReadClimate', CommandData<'ReadClimate'>>): Decision {
  const { zone, ...reading } = d.data
  const last = lastBefore(readingsOf(d.state, zone), d.at)
  if (isRepeated(last, d.at, d.data)) return { facts: [] }
  return { facts: [{ type: 'ClimateRead', keys: { zone }, data: reading }] }
}
