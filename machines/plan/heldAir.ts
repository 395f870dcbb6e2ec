import type { ZoneReading } from '../climate/context.ts'
import { airOf, readingsOf, zoneFolder } from '../climate/fold.ts'
import { heatsIn, isBakedAt } from '../climate/heats.ts'
import { rangeAt, STALE_MS } from '../clock/line.ts'
import { saturationHpa } from '../clock/moistAir.ts'
import { FORBIDS_MS } from '../panel/airGate.ts'
import { zoneOf } from '../panel/context.ts'
import type { State } from '../state.ts'
import type { AirTaken, WhatIf } from './forecastTypes.ts'

/**
 * The air that a forecast supposes: a zone that was read lately stays as it was read. Every gate then
 * reckons with it as it would if somebody went on reading it. Where nobody reads, the rules' own careful
 * figures stand.
 */

/** Closer together than a reading goes stale. */
const EVERY_MS = STALE_MS - 60_000
const AHEAD_MS = 48 * 3_600_000

const zonesOf = (state: State): string[] => [
  ...new Set(
    Object.values(state.things.panel)
      .filter(({ context }) => context.stays.length > 0)
      .map(({ context }) => zoneOf(context)),
  ),
]

/** What was read while the zone was baked says nothing of the air after that. */
function lastIn(
  state: State,
  zone: string,
  readings: readonly ZoneReading[],
  now: number,
): ZoneReading | null {
  const last = readings.findLast(({ at }) => at <= now && !isBakedAt(state, zone, at))
  return last && now - last.at < FORBIDS_MS ? last : null
}

/** What is supposed of a zone: null where the rules' own word stands. */
function supposedIn(
  last: ZoneReading | null,
  { warmerC = 0, zone }: WhatIf,
  id: string,
): ZoneReading | null {
  if (!last || (zone !== undefined && zone !== id)) return last
  if (warmerC === 0) return last
  const airC = last.airC + warmerC
  // Air that is warmed keeps its water, and is drier for its temperature.
  const rh = Math.min(1, (last.rh * saturationHpa(last.airC)) / saturationHpa(airC))
  return { at: last.at, airC, rh }
}

/**
 * @returns the state with the air that is supposed, and what that is
 */
export function withHeldAir(
  shop: State,
  now: number,
  whatIf: WhatIf = {},
): { readonly state: State; readonly air: readonly AirTaken[] } {
  const state = zonesOf(shop).reduce(
    (all, id) => (isStillHot(all, id, now) ? readAfterHeat(all, id, now - 1, now) : all),
    shop,
  )
  const zones = { ...state.things.zone }
  const air = zonesOf(state).map((id): AirTaken => {
    const known = airOf(state, id)
    const read = lastIn(state, id, readingsOf(state, id), now)
    const last = supposedIn(read, whatIf, id)
    const thing = zones[id]
    if (!last || !thing) {
      const range = rangeAt(known, now)
      return { zone: id, airC: null, rh: null, how: range ? 'range' : 'unknown' }
    }
    const held: ZoneReading[] = []
    for (let at = now; at < now + AHEAD_MS; at += EVERY_MS) held.push({ ...last, at })
    const before = thing.context.readings.filter(({ at }) => at < now)
    // What was measured of a surface holds for its part alone, and not for the days to come.
    const readings = [...before, ...held.map(({ surfaceC: _, ...reading }) => reading)]
    zones[id] = { ...thing, context: { ...thing.context, readings } }
    return { zone: id, airC: last.airC, rh: last.rh, how: last === read ? 'read' : 'supposed' }
  })
  return { state: { ...state, things: { ...state.things, zone: zones } }, air }
}

/** Whether a heat is over in a zone that nobody has read since. */
const isStillHot = (state: State, zone: string, now: number): boolean =>
  (airOf(state, zone).heated ?? []).some(({ untilMs }) => untilMs > now) &&
  heatsIn(state, zone).every(({ toMs }) => toMs !== null)

/** What is taken of a zone that nobody reads, once a heat in it is over. */
const ROOM = { airC: 20, rh: 0.5 } as const

/**
 * The state in which somebody reads a zone's air after a heat in it: without that the zone counts as being
 * as warm as it was set to, and no coat would go on in it.
 * @param toMs when the heat is over
 */
export function readAfterHeat(state: State, zone: string, toMs: number, now: number): State {
  const thing = state.things.zone[zone] ?? { ...zoneFolder.blank, entries: [] }
  const { readings } = thing.context
  const last = lastIn(state, zone, readings, now) ?? ROOM
  const at = toMs + 1
  const read: ZoneReading = { at, airC: last.airC, rh: last.rh }
  const place = readings.findIndex((one) => one.at > at)
  const all = readings.toSpliced(place === -1 ? readings.length : place, 0, read)
  const context = { ...thing.context, readings: all }
  return {
    ...state,
    things: { ...state.things, zone: { ...state.things.zone, [zone]: { ...thing, context } } },
  }
}
