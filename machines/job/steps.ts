import { type Kind, streamsOf, type ThingRef } from '../catalog.ts'
import type { Draft } from '../envelope.ts'
import { foldThing, reloaded } from '../fold.ts'
import { folders } from '../folders.ts'
import { liveIn } from '../live.ts'
import { routeState } from '../panel/where.ts'
import { around, foldThrough } from '../refold.ts'
import { emptyState, type State } from '../state.ts'
import type { Thing } from '../things.ts'

/** What an entry did to one of its things: the state that it led to, or in which it was not taken. */
export type Step = {
  readonly entry: string
  readonly kind: ChartedKind
  /** A dotted path of the chart's states, such as "clear.coating" or "emptied". */
  readonly state: string
  readonly isTaken: boolean
}

/** The kinds whose charts may leave an entry of a job aside; a gun's takes whatever comes. */
const CHARTED = ['job', 'panel', 'cup'] as const satisfies readonly Kind[]
export type ChartedKind = (typeof CHARTED)[number]
export type ChartedRef = { readonly [K in ChartedKind]: ThingRef<K> }[ChartedKind]

const stateOf = (value: unknown): string => (typeof value === 'string' ? value : routeState(value))

/** A thing's way through its chart: where it came to another state, and what was not taken. */
function ofThing<K extends ChartedKind>(cups: State, kind: K, thing: Thing<K>): Step[] {
  const left = new Set(thing.notTaken)
  const found: Step[] = []
  let before = stateOf(folders[kind].blank.value)
  foldThrough(kind, liveIn(thing.entries), around(cups), ({ id }, { value }) => {
    const state = stateOf(value)
    const isTaken = !left.has(id)
    if (!isTaken || state !== before) found.push({ entry: id, kind, state, isTaken })
    before = state
  })
  return found
}

/** The job, panels and cups that entries are of, each once. */
export function chartedIn(entries: readonly Draft[]): ChartedRef[] {
  const refs = entries.flatMap(streamsOf)
  return CHARTED.flatMap((kind) =>
    [...new Set(refs.filter((ref) => ref.kind === kind).map(({ id }) => id))].map((id) => ({
      kind,
      id,
    })),
  )
}

/**
 * What the entries of a job's history did to the states of its things.
 * @param entries the history
 * @param entriesOf all entries of one of its things, among others if need be
 */
export function stepsIn(
  entries: readonly Draft[],
  entriesOf: (ref: ChartedRef) => readonly Draft[],
): Step[] {
  const told = new Set(entries.map(({ id }) => id))
  const refs = chartedIn(entries)
  // What was said before its cup was known is folded with that cup, as it is in the shop's state.
  const cups = refs
    .filter((ref) => ref.kind === 'cup')
    .reduce((known, ref) => reloaded(known, ref, entriesOf(ref)), emptyState('', ''))
  return refs.flatMap((ref) => {
    const thing = foldThing(cups, ref, entriesOf(ref))
    if (thing === undefined) return []
    return ofThing(cups, ref.kind, thing).filter((one) => told.has(one.entry))
  })
}
