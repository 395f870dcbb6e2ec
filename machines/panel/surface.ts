import { heatsIn, isBakedAt, wasHeatedIn } from '../climate/heats.ts'
import type { Climate } from '../clock/air.ts'
import { lastBefore, STALE_MS } from '../clock/line.ts'
import { dewPointC } from '../clock/moistAir.ts'
import { liveIn } from '../live.ts'
import { dayIn } from '../shop/hours.ts'
import { settingsAt } from '../shop/settings.ts'
import type { State } from '../state.ts'
import { climateOf, freshAir, heldPart, isAirKnown, SETTLED_MS } from './climate.ts'
import { type PanelContext, zoneAt, zoneOf } from './context.ts'

/**
 * How warm the surface is that a coat goes on: as it was measured, else what a panel that stands long
 * enough in its air comes to. Common practice, no source.
 */

/** Air of another place, or of before, that is no further from this one leaves it so. */
const SAME_AIR_C = 3
/** It is taken to be so much colder than its air. */
const BEHIND_C = 1
/** With the air this near to its dew point a surface is always asked for. */
const NEAR_DEW_C = 6
/** Hundredths are not exact. */
const EXACT = 1e-9

export type Surface = { readonly partC: number; readonly isAssumed: boolean }

/** What was read of the air while its zone was baked says nothing of the air of the next coat. */
export function airOfCoats(state: State, panel: PanelContext): Climate {
  const climate = climateOf(state, panel)
  const stays = climate.stays.map((stay, i) => {
    const zone = panel.stays[i]?.zone ?? ''
    // Of hundreds of readings none is asked where nothing was ever heated.
    if (heatsIn(state, zone).length === 0) return stay
    const readings = stay.readings.filter(({ at }) => !isBakedAt(state, zone, at))
    return readings.length === stay.readings.length ? stay : { ...stay, readings }
  })
  return { ...climate, stays }
}

const wasHeated = (state: State, panel: PanelContext, at: number) => (sinceMs: number) =>
  wasHeatedIn(state, zoneOf(panel), sinceMs, at)

/**
 * Since when a panel has stood in air as it is now: in this zone, and before that in others whose air
 * was within 3 °C of it as the panel left them, without a reading that was colder by more than that.
 */
function settledSince({ stays }: Climate, airC: number, at: number): number {
  const isCold = (readingC: number) => readingC < airC - SAME_AIR_C - EXACT
  let untilMs = at
  let sinceMs = at
  for (const stay of stays.filter(({ fromMs }) => fromMs <= at).toReversed()) {
    const left = lastBefore(stay.readings, untilMs)
    const isRead = left !== undefined && untilMs - left.at < STALE_MS
    const isSame = sinceMs === at || (isRead && Math.abs(left.airC - airC) <= SAME_AIR_C + EXACT)
    if (!isSame) return sinceMs
    const colder = stay.readings.findLast(
      (reading) => reading.at <= untilMs && reading.at >= stay.fromMs && isCold(reading.airC),
    )
    if (colder) return Math.max(colder.at, stay.fromMs)
    sinceMs = stay.fromMs
    untilMs = stay.fromMs
  }
  return sinceMs
}

/** Whether the panel was baked on the same day of the shop, in the zone where it stands. */
function wasBakedToday(state: State, panel: PanelContext, at: number): boolean {
  const dayOf = dayIn(settingsAt(state, at).timeZone)
  return (panel.heats ?? []).some(
    ({ mode, fromMs, toMs }) =>
      mode === 'bake' &&
      toMs <= at &&
      dayOf(toMs) === dayOf(at) &&
      zoneAt(panel, fromMs) === zoneOf(panel),
  )
}

/**
 * The surface of a panel, °C.
 * @param at UTC ms
 * @returns null where it was not measured and does not stand long enough in air that was
 */
export function surfaceNow(state: State, panel: PanelContext, at: number): Surface | null {
  const climate = airOfCoats(state, panel)
  const part = heldPart(climate, at, wasHeated(state, panel, at))
  if (part !== null) return { partC: part, isAssumed: false }
  const air = freshAir(climate, at)
  if (!air) return null
  const isSettled =
    isAirKnown(climate, at - SETTLED_MS, at) &&
    at - settledSince(climate, air.airC, at) >= SETTLED_MS
  return isSettled || wasBakedToday(state, panel, at)
    ? { partC: air.airC - BEHIND_C, isAssumed: true }
    : null
}

/** Whether a start on the job had asked for the surface since the panel came to where it stands. */
function wasAskedHere(state: State, panel: PanelContext, at: number): boolean {
  const zone = zoneOf(panel)
  const sinceMs = panel.stays.at(-1)?.fromMs ?? 0
  return Object.values(state.things.panel).some(
    ({ context, entries }) =>
      context.job === panel.job &&
      liveIn(entries).some(
        (e) =>
          e.type === 'CoatStarted' &&
          e.zone === zone &&
          e.at >= sinceMs &&
          e.at <= at &&
          Array.isArray(e.data.asked) &&
          e.data.asked.includes('surface'),
      ),
  )
}

/**
 * Whether the sheet of a start asks how warm the panel is: once a job and move where nobody knows, and
 * always in air that is near to its dew point. Without a reading of the air it would say nothing.
 */
export function asksSurface(state: State, panel: PanelContext, at: number): boolean {
  const climate = airOfCoats(state, panel)
  const air = freshAir(climate, at)
  if (!air || air.rh === 0) return false
  const surface = surfaceNow(state, panel, at)
  if (surface && !surface.isAssumed) return false
  if (air.airC - dewPointC(air.airC, air.rh) < NEAR_DEW_C) return true
  return surface === null && !wasAskedHere(state, panel, at)
}
