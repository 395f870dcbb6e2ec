import type { CupContext } from '../cup/machine.ts'
import { contextThen, type Deciding } from '../deciding.ts'
import { cardFor, worstOf } from '../job/cards.ts'
import type { Problem } from '../refusals.ts'
import { settingsAt } from '../shop/settings.ts'
import { contextOf, type State } from '../state.ts'
import type { Step } from './context.ts'
import type { FoundPanel } from './find.ts'

/**
 * A color that was not measured, or that the shop would tint again: only for a shop that wants to be stopped
 * at the gun. Judged by the levels of that moment, not of the day of the card.
 */
export function cardProblems(
  d: Deciding,
  { id, panel }: FoundPanel,
  cup: CupContext | null,
  step: Step | undefined,
): Problem[] {
  const levels = settingsAt(d.state, d.at).colour
  if (levels?.atGun !== true || step?.colour === undefined) return []
  const cards = contextThen(d, 'job', panel.job)?.cards ?? []
  const card = cardFor(cards, step.colour, cup?.paint?.tint)
  const about = { panel: id, about: panel.name }
  const limit = levels.blend
  if (!card) return [{ code: 'colourOff', limit, value: null, card: step.colour, ...about }]
  const value = worstOf(card)
  return value <= limit ? [] : [{ code: 'colourOff', limit, value, card: card.card, ...about }]
}

/**
 * That no card of a job's color would be let through at the gun, whatever tint its cup will have: asked of a
 * coat to come, for a forecast.
 * @returns null where the shop does not want to be stopped, or a card is near enough
 */
export function noCardFor(
  state: State,
  { job, colour, at }: { readonly job: string; readonly colour: string; readonly at: number },
): { readonly limit: number; readonly value: number | null; readonly card: string } | null {
  const levels = settingsAt(state, at).colour
  if (levels?.atGun !== true) return null
  const cards = contextOf(state, 'job', job)?.cards ?? []
  const own = cards.filter((card) => card.colour === colour)
  const [nearest] = own.toSorted((a, b) => worstOf(a) - worstOf(b))
  const limit = levels.blend
  if (!nearest) return { limit, value: null, card: colour }
  const value = worstOf(nearest)
  return value <= limit ? null : { limit, value, card: nearest.card }
}
