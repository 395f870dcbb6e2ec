import {
  type IntervalKind,
  minutesAt,
  moreCautious,
  type Point,
  waterborneMinutes,
} from './interval.ts'

/** Air of a zone at an instant (UTC ms). */
export type AirReading = { readonly at: number; readonly airC: number; readonly rh?: number }
/** Surface of a part at an instant (UTC ms). */
export type PartReading = { readonly at: number; readonly partC: number }
/** A stay in one zone: from when, and that zone's readings in order of time. */
export type Stay = { readonly fromMs: number; readonly readings: readonly AirReading[] }

/** The climate an interval runs in. Stays are in order; the first holds back to the start. */
export type Climate = {
  readonly stays: readonly Stay[]
  readonly parts: readonly PartReading[]
  /** After this long without a newer reading the sheet's own figure counts as well. */
  readonly staleMs: number
}

export type Interval = {
  readonly kind: IntervalKind
  readonly points: readonly Point[]
  /** Given for a flash of a waterborne product: the sheet's reference humidity. */
  readonly waterborneRhRef?: number
}

/** The interval is `minutes` long in the air of this span, which lasts until the next one. */
export type Span = { readonly fromMs: number; readonly minutes: number }

const MINUTE_MS = 60_000
export const STALE_MS = 30 * MINUTE_MS

/** No climate known: every interval runs by the sheet's own figure. */
export const BLIND: Climate = { stays: [], parts: [], staleMs: STALE_MS }

/** The last item that is not later than t. Items are in order of time. */
export function lastBefore<T extends { readonly at: number }>(
  items: readonly T[],
  t: number,
): T | undefined {
  return items.findLast((item) => item.at <= t)
}

function stayAt(climate: Climate, t: number): Stay | undefined {
  return climate.stays.findLast((stay) => stay.fromMs <= t) ?? climate.stays[0]
}

/** The air that counts at t: the zone's last reading, or its first one holding back. */
export function airAt(climate: Climate, t: number): AirReading | undefined {
  const readings = stayAt(climate, t)?.readings ?? []
  return lastBefore(readings, t) ?? readings[0]
}

/** The part's temperature at t, from a reading younger than `holdMs`. */
export function partAt(climate: Climate, t: number, holdMs = STALE_MS): number | undefined {
  const part = lastBefore(climate.parts, t)
  return part && t - part.at < holdMs ? part.partC : undefined
}

function minutesIn(interval: Interval, airC: number, rh: number | undefined): number {
  const own = interval.points[0] as Point
  return interval.waterborneRhRef !== undefined && rh !== undefined
    ? waterborneMinutes(own, interval.waterborneRhRef, airC, rh)
    : minutesAt(interval.kind, interval.points, airC)
}

/** A not-before goes by the colder of air and part, a not-after by the warmer. */
function felt(kind: IntervalKind, airC: number, part: number | undefined): number {
  if (part === undefined) return airC
  return kind === 'notBefore' ? Math.min(airC, part) : Math.max(airC, part)
}

function minutesWhen(interval: Interval, climate: Climate, t: number): number {
  const own = (interval.points[0] as Point).minutes
  const air = airAt(climate, t)
  const part = partAt(climate, t)
  if (!air) {
    if (part === undefined) return own
    return moreCautious(interval.kind, own, minutesAt(interval.kind, interval.points, part))
  }
  const minutes = minutesIn(interval, felt(interval.kind, air.airC, part), air.rh)
  const isStale = t - air.at >= climate.staleMs
  return isStale ? moreCautious(interval.kind, minutes, own) : minutes
}

/**
 * How long the interval is, span by span, from its start on: a span ends where a reading comes or
 * goes stale, or the thing moves to another zone.
 */
export function spans(interval: Interval, startMs: number, climate: Climate): Span[] {
  const changes = new Set([startMs])
  for (const stay of climate.stays) {
    changes.add(stay.fromMs)
    for (const { at } of stay.readings) changes.add(at).add(at + climate.staleMs)
  }
  for (const { at } of climate.parts) changes.add(at).add(at + STALE_MS)
  return [...changes]
    .filter((t) => t >= startMs && Number.isFinite(t))
    .sort((a, b) => a - b)
    .map((fromMs) => ({ fromMs, minutes: minutesWhen(interval, climate, fromMs) }))
}

/** Closer than this to a whole second, or to the end of a span, is taken to be there. */
const SNAP_MS = 1

/** Whole seconds, towards caution; a length within 1 ms of a whole second is that second. */
function roundedMs(kind: IntervalKind, lengthMs: number): number {
  const seconds = lengthMs / 1000
  const nearest = Math.round(seconds)
  if (Math.abs(lengthMs - nearest * 1000) <= SNAP_MS) return nearest * 1000
  return (kind === 'notBefore' ? Math.ceil(seconds) : Math.floor(seconds)) * 1000
}

/**
 * When an interval ends: where the integral of dt / minutes(T(t)) reaches 1. Solved span by span,
 * since the rate is constant inside one. Its length is rounded to whole seconds towards caution, so
 * that engines whose exp and log differ in the last bit agree.
 *
 * @param interval kind and points, as copied from the sheet
 * @param startMs UTC ms
 * @param climate readings, past and future; the last one stays valid
 * @returns UTC ms, or null when it never ends in the air as it is (waterborne at 95 % RH or more)
 */
export function endsAt(interval: Interval, startMs: number, climate: Climate): number | null {
  const all = spans(interval, startMs, climate)
  let used = 0
  for (const [i, span] of all.entries()) {
    const leftMs = (1 - used) * span.minutes * MINUTE_MS
    const untilMs = all[i + 1]?.fromMs ?? Number.POSITIVE_INFINITY
    // A wait that ends where damp air comes in has ended, whatever the last bit of exp says.
    if (leftMs <= untilMs - span.fromMs + SNAP_MS && Number.isFinite(leftMs)) {
      return startMs + roundedMs(interval.kind, span.fromMs - startMs + leftMs)
    }
    used += (untilMs - span.fromMs) / (span.minutes * MINUTE_MS)
  }
  return null
}
