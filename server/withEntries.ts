import type { ThingRef } from '../machines/catalog.ts'
import type { Draft } from '../machines/envelope.ts'
import { reloaded } from '../machines/fold.ts'
import { type State, thingOf } from '../machines/state.ts'
import { understood } from './reading.ts'

/** The state with more of a thing's entries. Those it holds stay: some may not be stored yet. */
export function withEntries(state: State, ref: ThingRef, entries: readonly Draft[]): State {
  const held: readonly Draft[] = thingOf(state, ref)?.entries ?? []
  const all = new Map([...entries, ...held].map((entry) => [entry.id, entry]))
  const what = `the entries of ${ref.kind} ${ref.id}`
  return understood(state.shop, what, () => reloaded(state, ref, [...all.values()]))
}
