import { lastCoat, type PanelContext } from '../../machines/panel/context.ts'
import { heatFromAt } from '../../machines/panel/cureClock.ts'
import { HEATS, heatWaits } from '../../machines/sheet/heatFlash.ts'
import { curesOf } from '../../machines/sheet/intervals.ts'
import type { State } from '../../machines/state.ts'
import type { Moment } from './moment.ts'

/** What a lane waits for whose cure is due. Pure. Instants are UTC ms. */
export type HeatWait =
  | { readonly for: 'heatFlash'; readonly until: number }
  | { readonly for: 'heat' }
  /** Nobody has typed how long it flashes before heat. */
  | { readonly for: 'heatAsk' }
  | { readonly for: 'heatNoFlash' }
  /** The sheet of what is on has no cure. */
  | { readonly for: 'noCure' }

/** The kinds of heat of which it is not known how long the last coat flashes before them. */
export function heatsNotKnown(state: State, panel: PanelContext) {
  const opens = lastCoat(panel)?.opens
  return opens ? HEATS.filter((heat) => heatWaits(state, opens, heat) === null) : []
}

export function heatWait(state: State, panel: PanelContext, moment: Moment): HeatWait {
  const opens = lastCoat(panel)?.opens
  const cures = opens ? curesOf(opens.cure) : []
  const hasHeat = cures.some(({ bake, infrared }) => bake.length > 0 || infrared !== null)
  if (!hasHeat) return { for: cures.some(({ air }) => air) ? 'heat' : 'noCure' }
  const ends = HEATS.map((heat) => heatFromAt(state, panel, heat)).filter((end) => end !== null)
  if (ends.length === 0)
    return { for: heatsNotKnown(state, panel).length > 0 ? 'heatAsk' : 'heatNoFlash' }
  const until = Math.min(...ends)
  return moment.isPast(until) ? { for: 'heat' } : { for: 'heatFlash', until }
}
