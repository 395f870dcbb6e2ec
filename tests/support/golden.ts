import { KINDS } from '../../machines/catalog.ts'
import { deadlines } from '../../machines/deadlines.ts'
import type { Entry } from '../../machines/envelope.ts'
import { fold } from '../../machines/fold.ts'
import { emptyState, type State } from '../../machines/state.ts'

/** How often along a golden log the state is looked at. */
const EVERY = 10

/** A summary of a state: the state of every thing, what was not taken, and every deadline. */
export type Looked = {
  readonly position: number
  readonly stands: Readonly<Record<string, unknown>>
  readonly notTaken: readonly string[]
  readonly deadlines: readonly (readonly [string, number])[]
}

export function lookAt(state: State): Looked {
  const all = KINDS.flatMap((kind) =>
    Object.entries(state.things[kind]).map(([id, thing]) => ({ name: `${kind} ${id}`, thing })),
  ).filter(({ name }) => !name.startsWith('bell'))
  return {
    position: state.head,
    stands: Object.fromEntries(all.map(({ name, thing }) => [name, thing.value])),
    notTaken: all.flatMap(({ thing }) => thing.notTaken),
    deadlines: deadlines(state).map(({ key, dueAt }) => [key, dueAt] as const),
  }
}

/** A golden log folded from nothing, looked at every few entries and at its end. */
export function walkLog(
  entries: readonly Entry[],
  firstHash: string,
): { looked: Looked[]; state: State } {
  let state = emptyState(entries[0]?.shop ?? '', firstHash)
  const looked: Looked[] = []
  for (const entry of entries) {
    state = fold(state, entry)
    const isEnd = entry.position === entries.length
    if (isEnd || entry.position % EVERY === 0) looked.push(lookAt(state))
  }
  return { looked, state }
}
