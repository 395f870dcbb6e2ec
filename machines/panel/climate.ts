import { airOf, surfacesOf } from '../climate/fold.ts'
import { airAt, type Climate, partAt, STALE_MS, type Stay } from '../clock/line.ts'
import { dewPointC } from '../clock/moistAir.ts'
import type { State } from '../state.ts'
import type { PanelContext } from './context.ts'

/** For dew point and bake a part reading stays valid this long. */
export const PART_HOLD_MS = 600_000

/** The air and surface around a panel, zone after zone. */
export function climateOf(state: State, panel: PanelContext): Climate {
  const stays = panel.stays.map(({ fromMs, zone }) => ({
    fromMs,
    ...airOf(state, zone),
  }))
  const surfaces = stays.flatMap(({ fromMs, readings }, i) => {
    const from = i === 0 ? 0 : fromMs
    const until = stays[i + 1]?.fromMs ?? Number.POSITIVE_INFINITY
    return surfacesOf(readings).filter((r) => r.at >= from && r.at < until)
  })
  const parts = [...panel.parts, ...surfaces].sort((a, b) => a.at - b.at)
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

/** How far a surface measured in the last 10 min is above the dew point, in °C; null when not known. */
export function dewMargin(climate: Climate, at: number): number | null {
  const air = freshAir(climate, at)
  const surface = partAt(climate, at, PART_HOLD_MS)
  if (!air || surface === undefined || air.rh === 0) return null
  return surface - dewPointC(air.airC, air.rh)
}
