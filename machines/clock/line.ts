import { FOREVER_MS, isWithin } from '../spans.ts'
import type { AirReading, Climate, DayRange, Stay, ZoneAir } from './air.ts'
import {
  type IntervalKind,
  minutesAt,
  moreCautious,
  type Point,
  waterborneMinutes,
  waterborneTableMinutes,
} from './interval.ts'

export type Interval = {
  readonly kind: IntervalKind
  readonly points: readonly Point[]
  /** Given for a flash of a waterborne product: the sheet's reference humidity. */
  readonly waterborneRhRef?: number
  /** It goes by all of its points, and by the surface. Coats of before went by the first point, in the air's humidity. */
  readonly isTable?: true
  /** Where nobody knows the air, figures near to the last reading count too. Clocks of before went by the first point. */
  readonly nearWhenBlind?: true
  /** Its minutes while air movers are on, at the sheet's reference. */
  readonly forcedMin?: number
  /** Below this temperature of the film it stands still. Cures of before went on in any cold. */
  readonly leastC?: number
}

const MINUTE_MS = 60_000
export const STALE_MS = 30 * MINUTE_MS

/** No climate known: every interval runs by the sheet's own figure. */
export const BLIND: Climate = { stays: [], parts: [], staleMs: STALE_MS }

type Timed = { readonly at: number }

/** How many items are not later than t. Items are in order of time. */
export function countUntil(items: readonly Timed[], t: number): number {
  let low = 0
  let high = items.length
  while (low < high) {
    const middle = (low + high) >> 1
    if ((items[middle] as Timed).at <= t) low = middle + 1
    else high = middle
  }
  return low
}

/** The last item that is not later than t. Items are in order of time. */
export const lastBefore = <T extends Timed>(items: readonly T[], t: number): T | undefined =>
  items[countUntil(items, t) - 1]

/** Whether all readings of a zone are held that may count at t. */
export const isKnownAt = ({ heldMs }: ZoneAir, t: number): boolean =>
  heldMs === undefined || isWithin(heldMs, t)

function stayAt(climate: Climate, t: number): Stay | undefined {
  return climate.stays.findLast((stay) => stay.fromMs <= t) ?? climate.stays[0]
}

/** The air that counts at t, for what waits beside a bake also: the zone's last reading, or its first one holding back. */
export function airAt(climate: Climate, t: number, kind?: IntervalKind): AirReading | undefined {
  const { readings = [], cool } = stayAt(climate, t) ?? {}
  const own = (kind === 'notBefore' && cool) || readings
  return lastBefore(own, t) ?? own[0]
}

/** The part's temperature at t, from a reading younger than `holdMs`. */
export function partAt(climate: Climate, t: number, holdMs = STALE_MS): number | undefined {
  const part = lastBefore(climate.parts, t)
  return part && t - part.at < holdMs ? part.partC : undefined
}

/** Whether air movers are on where a thing is. */
export const moversOn = (climate: Climate, t: number): boolean =>
  lastBefore(stayAt(climate, t)?.movers ?? [], t)?.isOn === true

/** The range that is in force for a zone at t. */
export function rangeAt({ ranges = [] }: ZoneAir, t: number): DayRange | undefined {
  const range = lastBefore(ranges, t)
  return range && t < range.untilMs ? range : undefined
}

/** A flash under air movers goes by one figure and by the drying power of the air. */
function forced(interval: Interval, climate: Climate, t: number): Interval {
  const { forcedMin, points } = interval
  const own = points[0] as Point
  if (forcedMin === undefined || own.minutes === 0 || !moversOn(climate, t)) return interval
  return { ...interval, points: [{ ...own, minutes: forcedMin }] }
}

function minutesIn(interval: Interval, atC: number, { airC, rh }: AirReading): number {
  const { kind, points, waterborneRhRef, isTable, leastC = -Infinity } = interval
  if (atC < leastC) return Number.POSITIVE_INFINITY
  if (waterborneRhRef === undefined || rh === undefined) return minutesAt(kind, points, atC)
  return isTable
    ? waterborneTableMinutes(points, waterborneRhRef, atC, { airC, rh })
    : waterborneMinutes(points[0] as Point, waterborneRhRef, atC, rh)
}

/**
 * The longest or shortest of a sheet's figures: what holds where the readings were evicted. Of a
 * waterborne film nobody can say then that the air was dry enough for it to flash at all.
 */
export function mostCautious({ kind, points, waterborneRhRef }: Interval): number {
  const figure = points.map((p) => p.minutes).reduce((a, b) => moreCautious(kind, a, b))
  return waterborneRhRef === undefined || figure === 0 ? figure : Number.POSITIVE_INFINITY
}

/** A not-before goes by the colder of air and part, a not-after by the warmer. */
function felt(kind: IntervalKind, airC: number, part: number | undefined): number {
  if (part === undefined) return airC
  return kind === 'notBefore' ? Math.min(airC, part) : Math.max(airC, part)
}

/** What must not take too long goes by a heated zone's temperature, where that is the more cautious. */
function heated({ kind, points }: Interval, climate: Climate, t: number, minutes: number): number {
  const heats = kind === 'notBefore' ? undefined : stayAt(climate, t)?.heated
  let most = minutes
  for (const { fromMs, untilMs, setC } of heats ?? [])
    if (fromMs <= t && t < untilMs) most = moreCautious(kind, most, minutesAt(kind, points, setC))
  return most
}

function minutesWhen(interval: Interval, climate: Climate, t: number): number {
  const alone = minutesAlone(forced(interval, climate, t), climate, t)
  const minutes = heated(interval, climate, t, alone)
  const { also } = climate
  if (!also || t < also.fromMs) return minutes
  return moreCautious(interval.kind, minutes, minutesWhen(interval, also.climate, t))
}

function minutesAlone(interval: Interval, climate: Climate, t: number): number {
  const stay = stayAt(climate, t)
  if (stay && !isKnownAt(stay, t)) return mostCautious(interval)
  const air = airAt(climate, t, interval.kind)
  const part = partAt(climate, t)
  if (air && t - air.at < climate.staleMs)
    return minutesIn(interval, felt(interval.kind, air.airC, part), air)
  const range = stay && rangeAt(stay, t)
  const all = range ? minutesInRange(interval, range, air, part) : minutesBlind(interval, air, part)
  return all.reduce((a, b) => moreCautious(interval.kind, a, b))
}

/** Without a reading the sheet's figures count that are so near to the last one, or to 20 °C. */
const NEAR_C = 10
const ROOM_C = 20

/**
 * Where nobody knows the air: the sheet's own figure, those near to the last reading, and what that
 * reading itself comes to. The more cautious of them binds.
 */
function minutesBlind(
  interval: Interval,
  air: AirReading | undefined,
  part: number | undefined,
): number[] {
  const { kind, points, nearWhenBlind = false } = interval
  const own = (points[0] as Point).minutes
  const aboutC = air?.airC ?? ROOM_C
  const near = points.filter(({ atC }) => nearWhenBlind && Math.abs(atC - aboutC) <= NEAR_C)
  return [
    own,
    ...near.map(({ minutes }) => minutes),
    ...(air ? [minutesIn(interval, felt(kind, air.airC, part), air)] : []),
    ...(!air && part !== undefined ? [minutesIn(interval, part, { at: 0, airC: part })] : []),
  ]
}

/** The ends of what the air is said to be, joined with the last reading, and the sheet's figures between them. */
function minutesInRange(
  interval: Interval,
  { minC, maxC, rhMin, rhMax }: DayRange,
  air: AirReading | undefined,
  part: number | undefined,
): number[] {
  const known = [minC, maxC, ...(air ? [air.airC] : [])]
  const [leastC, mostC] = [Math.min(...known), Math.max(...known)]
  const between = interval.points.filter(({ atC }) => atC > leastC && atC < mostC)
  const humidities = [rhMin, rhMax, air?.rh].filter((rh) => rh !== undefined)
  const dampest = humidities.length === 0 ? {} : { rh: Math.max(...humidities) }
  return [leastC, mostC, ...between.map(({ atC }) => atC)].map((airC) =>
    minutesIn(interval, felt(interval.kind, airC, part), { at: 0, airC, ...dampest }),
  )
}

/**
 * When the next reading comes, or the one that holds at t goes stale; Infinity for never. One that another has
 * followed goes stale unseen: a sensor's of the last half hour would each make a stretch of its own.
 */
function nextOf(items: readonly Timed[], staleMs: number, t: number): number {
  const coming = countUntil(items, t)
  const comes = items[coming]?.at ?? Number.POSITIVE_INFINITY
  const goes = (items[coming - 1]?.at ?? Number.NEGATIVE_INFINITY) + staleMs
  return goes > t ? Math.min(comes, goes) : comes
}

/** When the air next counts in another way after t, Infinity for never. Every clock asks it for each of its stretches. */
function nextChange({ stays, parts, staleMs, also }: Climate, t: number): number {
  let next = nextOf(parts, STALE_MS, t)
  const take = (at: number | undefined) => {
    if (at !== undefined && at > t && at < next) next = at
  }
  for (const stay of stays) {
    const { fromMs, readings, cool, movers, ranges, heldMs, heated } = stay
    take(fromMs)
    take(nextOf(readings, staleMs, t))
    if (cool) take(nextOf(cool, staleMs, t))
    if (movers) take(movers[countUntil(movers, t)]?.at)
    if (ranges) {
      take(ranges[countUntil(ranges, t)]?.at)
      take(rangeAt(stay, t)?.untilMs)
    }
    for (const held of heldMs ?? []) {
      take(held.fromMs)
      if (held.toMs < FOREVER_MS) take(held.toMs + 1)
    }
    for (const heat of heated ?? []) {
      take(heat.fromMs)
      take(heat.untilMs)
    }
  }
  if (also) {
    take(also.fromMs)
    take(nextChange(also.climate, t))
  }
  return next
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
 * When an interval ends: where the integral of dt / minutes(T(t)) reaches 1. Solved stretch by
 * stretch, since the rate is constant inside one: it ends where a reading comes or goes stale, or the thing
 * moves to another zone. Its length is rounded to whole seconds towards caution, so
 * that engines whose exp and log differ in the last bit agree.
 *
 * @param interval kind and points, as copied from the sheet
 * @param startMs UTC ms
 * @param climate readings, past and future; the last one stays valid
 * @returns UTC ms, or null when it never ends in the air as it is (waterborne at 95 % RH or more)
 */
export function endsAt(interval: Interval, startMs: number, climate: Climate): number | null {
  let used = 0
  for (let fromMs = startMs; Number.isFinite(fromMs); ) {
    const untilMs = nextChange(climate, fromMs)
    const minutes = minutesWhen(interval, climate, fromMs)
    const leftMs = (1 - used) * minutes * MINUTE_MS
    // A wait that ends where damp air comes in has ended, whatever the last bit of exp says.
    if (leftMs <= untilMs - fromMs + SNAP_MS && Number.isFinite(leftMs)) {
      return startMs + roundedMs(interval.kind, fromMs - startMs + leftMs)
    }
    used += (untilMs - fromMs) / (minutes * MINUTE_MS)
    fromMs = untilMs
  }
  return null
}
