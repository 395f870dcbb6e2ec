import { readingsOf, surfacesOf } from '../climate/fold.ts'
import { airAt, type Climate, partAt, STALE_MS } from '../clock/line.ts'
import { dewPointC } from '../clock/moistAir.ts'
import type { State } from '../state.ts'
import type { PanelContext } from './context.ts'

/** For dew point and bake a part reading stays valid this long. */
export const PART_HOLD_MS = 600_000

/** The air and surface around a panel, zone after zone. */
export function climateOf(state: State, panel: PanelContext): Climate {
  const stays = panel.stays.map(({ fromMs, zone }) => ({
    fromMs,
    readings: readingsOf(state, zone),
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

/** The zone's air at an instant if its reading is under 30 min old and not from later. */
export function freshAir(climate: Climate, at: number): AirNow | null {
  const air = airAt(climate, at)
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
