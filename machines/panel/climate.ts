import { airOf, surfacesOf } from '../climate/fold.ts'
import { coolIn, heatsOf } from '../climate/heats.ts'
import type { Climate, Stay } from '../clock/air.ts'
import { airAt, lastBefore, STALE_MS } from '../clock/line.ts'
import { dewPointC } from '../clock/moistAir.ts'
import type { State } from '../state.ts'
import type { PanelContext } from './context.ts'

/** For dew point and bake a part reading stays valid this long. */
export const PART_HOLD_MS = 600_000
/** A panel that stands so long in the same air has come to its temperature. */
export const SETTLED_MS = 7_200_000
/** For dew point it stays valid so long in air that stays as it was. */
const STEADY_HOLD_MS = 3_600_000
/** By how much air may change and still be as it was. Common practice, no source. */
const STEADY_C = 2
const STEADY_RH = 0.05
/** Hundredths are not exact: 0.55 is not more than 0.05 above 0.5. */
const EXACT = 1e-9

/** The air and surface around a panel, zone after zone. */
export function climateOf(state: State, panel: PanelContext): Climate {
  const stays = panel.stays.map(({ fromMs, zone }) => {
    const air = airOf(state, zone)
    return { fromMs, ...air, ...coolIn(state, zone, air.readings, heatsOf(panel)) }
  })
  const surfaces = stays.flatMap(({ fromMs, readings }, i) => {
    const from = i === 0 ? 0 : fromMs
    const until = stays[i + 1]?.fromMs ?? Number.POSITIVE_INFINITY
    // A panel that never moved has all of them.
    if (stays.length === 1) return surfacesOf(readings)
    return surfacesOf(readings).filter((r) => r.at >= from && r.at < until)
  })
  // Those of one zone are in their order.
  const isSorted = stays.length === 1 && panel.parts.length === 0
  const parts = isSorted ? surfaces : [...panel.parts, ...surfaces].sort((a, b) => a.at - b.at)
  return { stays, parts, staleMs: STALE_MS }
}

export type AirNow = {
  readonly airC: number
  readonly rh: number
  readonly at: number
}

const isHeldThroughout = ({ heldMs }: Stay, fromMs: number, toMs: number): boolean =>
  heldMs === undefined || heldMs.some((held) => held.fromMs <= fromMs && toMs <= held.toMs)

/** Whether no reading was evicted that may count from one instant to another. */
export function isAirKnown({ stays }: Climate, fromMs: number, toMs: number): boolean {
  return stays.every((stay, i) => {
    const from = Math.max(fromMs, i === 0 ? fromMs : stay.fromMs)
    const to = Math.min(toMs, (stays[i + 1]?.fromMs ?? Number.POSITIVE_INFINITY) - 1)
    return from > to || isHeldThroughout(stay, from, to)
  })
}

/** The zone's air at an instant if its reading is under 30 min old and not from later. */
export function freshAir(climate: Climate, at: number): AirNow | null {
  const air = airAt(climate, at)
  if (!isAirKnown(climate, at, at)) return null
  if (!air || air.rh === undefined || air.at > at || at - air.at >= STALE_MS) return null
  return { airC: air.airC, rh: air.rh, at: air.at }
}

/** Whether the air stayed as it was from one instant to another, and the panel where it was. */
function isSteady(climate: Climate, fromMs: number, toMs: number): boolean {
  const first = freshAir(climate, fromMs)
  const stay = climate.stays.findLast((one) => one.fromMs <= toMs) ?? climate.stays[0]
  if (!first || !stay || (stay !== climate.stays[0] && stay.fromMs > fromMs)) return false
  return stay.readings
    .filter(({ at }) => at > fromMs && at <= toMs)
    .every(
      ({ airC, rh }) =>
        rh !== undefined &&
        Math.abs(airC - first.airC) <= STEADY_C + EXACT &&
        Math.abs(rh - first.rh) <= STEADY_RH + EXACT,
    )
}

/**
 * The part's last reading, °C; null where none holds. What was measured holds for 10 min, or for 60
 * while the air stays within 2 °C and 5 % RH of what it was and the panel neither moves nor is heated.
 * @param wasHeated whether the panel's zone was heated between an instant and `at`
 */
export function heldPart(
  climate: Climate,
  at: number,
  wasHeated: (sinceMs: number) => boolean,
): number | null {
  const part = lastBefore(climate.parts, at)
  if (!part) return null
  const isLong = isSteady(climate, part.at, at) && !wasHeated(part.at)
  return at - part.at < (isLong ? STEADY_HOLD_MS : PART_HOLD_MS) ? part.partC : null
}

/** How far a measured surface is above the dew point, in °C; null where air or surface is not known. */
export function dewMargin(
  climate: Climate,
  at: number,
  wasHeated: (sinceMs: number) => boolean,
): number | null {
  const air = freshAir(climate, at)
  const partC = heldPart(climate, at, wasHeated)
  return air === null || partC === null || air.rh === 0 ? null : partC - dewPointC(air.airC, air.rh)
}
