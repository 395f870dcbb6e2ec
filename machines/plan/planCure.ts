import { lagOf } from '../climate/neighbors.ts'
import { endsAt } from '../clock/line.ts'
import { climateOf } from '../panel/climate.ts'
import { type CureMode, lastCoat, type PanelContext, zoneOf } from '../panel/context.ts'
import { modesOf } from '../panel/cure.ts'
import { heatFromAt } from '../panel/cureClock.ts'
import { LATEST } from '../panel/gate.ts'
import { cureFiguresAt } from '../panel/opens.ts'
import { lastSetC } from '../panel/roomHeat.ts'
import { type CureFigures, type CureOfOne, curesOf } from '../sheet/intervals.ts'
import type { State } from '../state.ts'
import type { Cannot } from './forecastTypes.ts'

/** How a film will be cured, as far as shop and sheet say it. */

export type Cured = {
  readonly mode: CureMode
  readonly fromMs: number
  readonly ms: number
  readonly setC: number | null
  readonly figures: CureFigures
}

/** Until a part in a bake is at temperature. Common practice, no source; for forecasts only. */
export const HEAT_UP_MS = 15 * 60_000

/** The bake figure that is over soonest, of one mix in the film. */
const shortest = ({ bake }: CureOfOne) =>
  bake.reduce((a, b) => (b.minutes < a.minutes ? b : a), bake[0] as (typeof bake)[number])

/** How long heat is on, and what it is set to. */
export function heatOf(
  state: State,
  panel: PanelContext,
  figures: CureFigures,
  mode: 'bake' | 'infrared',
): { ms: number; setC: number | null } {
  const all = curesOf(figures)
  if (mode === 'infrared') {
    const minutes = Math.max(...all.map(({ infrared }) => infrared?.minutes ?? 0))
    return { ms: Math.round(minutes * 60_000), setC: null }
  }
  const baked = all.filter(({ bake }) => bake.length > 0).map(shortest)
  const minutes = Math.max(0, ...baked.map((figure) => figure.minutes))
  const lagC = lagOf(state, zoneOf(panel))
  const sets = baked.map(({ tempC, basis }) => tempC + (basis === 'part' ? lagC : 0))
  return { ms: HEAT_UP_MS + Math.round(minutes * 60_000), setC: Math.max(...sets) }
}

/** A shop that has baked before bakes what it can; who has no oven cures in air. */
function inOrder(state: State, modes: readonly CureMode[]): CureMode[] {
  const wished: readonly CureMode[] =
    lastSetC(state) === null ? ['air', 'bake', 'infrared'] : ['bake', 'air', 'infrared']
  return wished.filter((mode) => modes.includes(mode))
}

/**
 * @param at from when the panel is free
 */
export function cureOf(
  { state }: { readonly state: State },
  panel: PanelContext,
  step: number,
  at: number,
): Cured | Cannot {
  const figures = cureFiguresAt(state, panel, step, LATEST)
  const sheet = lastCoat(panel)?.opens?.sheet ?? panel.route[step]?.sheet ?? null
  const modes = inOrder(state, modesOf(figures))
  if (modes.length === 0) return { code: 'noCure', sheet }
  for (const mode of modes) {
    if (mode === 'air') {
      const ends = curesOf(figures).map(
        ({ air }) => air && endsAt(air, at, climateOf(state, panel)),
      )
      if (ends.some((end) => end === null)) continue
      const endMs = Math.max(...ends.filter((end) => end !== null))
      return { mode, fromMs: at, ms: endMs - at, setC: null, figures }
    }
    const fromMs = lastCoat(panel) ? heatFromAt(state, panel, mode) : at
    if (fromMs !== null) return { mode, fromMs, ...heatOf(state, panel, figures, mode), figures }
  }
  return modes.includes('air')
    ? { code: 'tooColdToCure', zone: zoneOf(panel), sheet: sheet ?? '' }
    : { code: 'heatFlashUnknown', sheet }
}
