import type { Kind } from '../../machines/catalog.ts'
import { contextOf, type State } from '../../machines/state.ts'
import type { ContextOf } from '../../machines/things.ts'

/** The context of a thing that a test has made: a test about one that is not there is wrong itself. */
export function madeContext<K extends Kind>(state: State, kind: K, id: string): ContextOf<K> {
  const context = contextOf(state, kind, id)
  if (context === undefined) throw new Error(`there is no ${kind} ${id}`)
  return context
}
