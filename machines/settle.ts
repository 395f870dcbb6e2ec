import type { Kind, ThingRef } from './catalog.ts'
import { settledBy } from './complete.ts'
import { around, takersOf } from './fold.ts'
import { type State, thingOf, withThing } from './state.ts'

/** A thing whose entries keep what they took from cups that will not be there. */
function settledIn<K extends Kind>(state: State, ref: ThingRef<K>): State {
  const thing = thingOf(state, ref)
  if (!thing) return state
  const entries = thing.entries.map((entry) => settledBy(entry, around(state)))
  const isSame = entries.every((entry, i) => entry === thing.entries[i])
  return isSame ? state : withThing(state, ref, { ...thing, entries })
}

/**
 * The state before some cups are evicted: what took its figures from them, because it was recorded
 * before they were known, keeps these from now on.
 */
export const settled = (state: State, cups: readonly string[]): State =>
  cups
    .flatMap((id) => takersOf(thingOf(state, { kind: 'cup', id })?.entries ?? []))
    .reduce(settledIn, state)
