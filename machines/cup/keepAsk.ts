import { dayIn } from '../shop/hours.ts'
import { settingsAt } from '../shop/settings.ts'
import type { State } from '../state.ts'
import type { CupContext } from './context.ts'
import { type KeepAsk, missing, mixedAt, saidSince } from './keep.ts'

/**
 * The figure to ask for before a stored mix is used: first needed on a later day than it was mixed on.
 * @returns null where it is known, or not needed yet
 */
export function keepAsked(state: State, cup: CupContext, at: number): KeepAsk | null {
  const ask = missing(state, cup)
  if (!ask || saidSince(state, ask, at) !== undefined) return null
  const dayOf = dayIn(settingsAt(state, at).timeZone)
  return dayOf(mixedAt(cup)) === dayOf(at) ? null : ask
}
