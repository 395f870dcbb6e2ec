import { lastBefore } from '../clock/line.ts'
import type { CommandData } from '../commands.ts'
import type { Deciding, Decision } from '../deciding.ts'
import { holdsUntil } from '../shop/hours.ts'
import { settingsAt } from '../shop/settings.ts'
import type { ZoneReading } from './context.ts'
import { airOf, readingAt } from './fold.ts'

/** Air movers switched on or off in a zone; what they already are is answered and not recorded. */
export function setAirMovers(d: Deciding<'SetAirMovers', CommandData<'SetAirMovers'>>): Decision {
  const { zone, on } = d.data
  const last = lastBefore(airOf(d.state, zone).movers ?? [], d.at)
  if (d.isLive && (last?.isOn ?? false) === on) return { facts: [] }
  return { facts: [{ type: 'AirMoversSet', keys: { zone }, data: { on } }] }
}

/** What a zone's air stays between, until the shop closes; over the night until it opens again. */
export function setDayRange(d: Deciding<'SetDayRange', CommandData<'SetDayRange'>>): Decision {
  const { zone, overnight = false, ...range } = d.data
  const untilMs = holdsUntil(settingsAt(d.state, d.at), d.at, overnight)
  const data = { ...range, ...(overnight ? { overnight } : {}), untilMs }
  return { facts: [{ type: 'DayRangeSet', keys: { zone }, data }] }
}

/** What a command that a sensor sent names as its source. Without it a person read the instrument. */
export const SENSOR = 'sensor'
const KEEP_MS = 300_000
const SAME_MILLI_C = 200
const SAME_MILLI_RH = 10

/** Compared in whole thousandths: a difference such as 0.51 - 0.5 comes out a little above 0.01. */
const isNear = (a: number | undefined, b: number | undefined, withinMilli: number): boolean =>
  a === undefined || b === undefined ? a === b : Math.round(Math.abs(a - b) * 1000) <= withinMilli

/** A reading of the air that adds nothing: near the last recorded one, and less than 5 min after it. */
function isRepeated(
  last: ZoneReading | undefined,
  at: number,
  now: CommandData<'ReadClimate'>,
): boolean {
  return (
    last !== undefined &&
    now.surfaceC === undefined &&
    at - last.at < KEEP_MS &&
    isNear(last.airC, now.airC, SAME_MILLI_C) &&
    isNear(last.rh, now.rh, SAME_MILLI_RH)
  )
}

/**
 * A sensor speaks every minute; what repeats the last reading is answered and not recorded. What a
 * person reads is always recorded, also the same again: it is known to hold until a later moment.
 */
export function readClimate(d: Deciding<'ReadClimate', CommandData<'ReadClimate'>>): Decision {
  const { zone, ...reading } = d.data
  const last = readingAt(d.state, zone, d.at)
  if (d.command.source === SENSOR && isRepeated(last, d.at, d.data)) return { facts: [] }
  return { facts: [{ type: 'ClimateRead', keys: { zone }, data: reading }] }
}
