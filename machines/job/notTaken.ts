import { type Kind, streamsOf, type ThingRef } from '../catalog.ts'
import type { Draft } from '../envelope.ts'
import { type FolderOf, foldThing, liveIn } from '../fold.ts'
import { folders } from '../folders.ts'
import { routeState } from '../panel/where.ts'
import type { Thing } from '../things.ts'

/** An entry that the chart of a thing did not take, and the state of the thing at that moment. */
export type NotTaken = {
  readonly entry: string
  readonly kind: ChartedKind
  /** A dotted path of the chart's states, such as "clear.coating" or "emptied". */
  readonly stood: string
}

/** The kinds whose charts may leave an entry of a job aside; a gun's takes whatever comes. */
const CHARTED = ['job', 'panel', 'cup'] as const satisfies readonly Kind[]
export type ChartedKind = (typeof CHARTED)[number]
export type ChartedRef = { readonly [K in ChartedKind]: ThingRef<K> }[ChartedKind]

/** The fold only notes that an entry was not taken; the state of the thing then is folded again. */
function ofThing<K extends ChartedKind>(kind: K, thing: Thing<K>): NotTaken[] {
  if (thing.notTaken.length === 0) return []
  const folder: FolderOf<K> = folders[kind]
  const found: NotTaken[] = []
  let folded = folder.blank
  for (const entry of liveIn(thing.entries)) {
    if (thing.notTaken.includes(entry.id)) {
      const { value } = folded
      const stood = typeof value === 'string' ? value : routeState(value)
      found.push({ entry: entry.id, kind, stood })
    }
    folded = folder.step(folded, entry)
  }
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
 * What of a job's history was left aside by the charts of its things, and why.
 * @param entries the history
 * @param entriesOf all entries of one of its things, among others if need be
 */
export function notTakenIn(
  entries: readonly Draft[],
  entriesOf: (ref: ChartedRef) => readonly Draft[],
): NotTaken[] {
  const told = new Set(entries.map(({ id }) => id))
  return chartedIn(entries).flatMap((ref) => {
    const thing = foldThing(ref, entriesOf(ref))
    return thing === undefined ? [] : ofThing(ref.kind, thing).filter((one) => told.has(one.entry))
  })
}
