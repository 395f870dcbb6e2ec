import type { Kind } from './catalog.ts'
import { type Around, completed } from './complete.ts'
import type { Draft } from './envelope.ts'
import { folders } from './folders.ts'
import { liveIn, voidedIn } from './live.ts'
import { sprayMsOf } from './panel/spraying.ts'
import type { Folded, Folder } from './replay.ts'
import { type State, thingOf } from './state.ts'
import type { ContextOf, Thing, ValueOf } from './things.ts'

/** Where one thing comes to by its entries, with what these take from other things of a state. */

export type FolderOf<K extends Kind> = Folder<ContextOf<K>, ValueOf<K>>

/** What an entry may take from other things. `within` are the cups that are being looked up already. */
export function around(state: State, within: readonly string[] = []): Around {
  const cupOf = (id: string, isThen: (entries: readonly Draft[]) => readonly Draft[] | null) => {
    const thing = within.includes(id) ? undefined : thingOf(state, { kind: 'cup', id })
    const then = thing && isThen(thing.entries)
    if (!thing || !then) return null
    const isNow = then.length === thing.entries.length && within.length === 0
    const cup = isNow ? thing : refold('cup', then, around(state, [...within, id]))
    return cup.value === 'unmixed' ? null : cup.context
  }
  return {
    state,
    sprayMs: (panel, at) => sprayMsOf(state, panel, at),
    cupAt: (id, at) =>
      cupOf(id, (all) => ((all.at(-1)?.at ?? 0) <= at ? all : until(all, (e) => e.at <= at))),
    beforePour: (id, command) =>
      cupOf(id, (all) => {
        const voided = voidedIn(all)
        const isPour = (e: Draft) => e.command === command && e.data.role === 'parent'
        const place = all.findIndex((e) => isPour(e) && !voided.has(e.id))
        return place === -1 ? null : until(all, (_, i) => i < place)
      }),
  }
}

/** Entries up to an instant. A void counts whatever its time: the mistake was never there. */
export const until = (entries: readonly Draft[], isBy: (e: Draft, i: number) => boolean): Draft[] =>
  entries.filter((e, i) => isBy(e, i) || e.type === 'EntryVoided')

export function step<K extends Kind>(
  kind: K,
  before: Folded<ContextOf<K>, ValueOf<K>>,
  entry: Draft,
  by: Around,
): Folded<ContextOf<K>, ValueOf<K>> {
  const folder: FolderOf<K> = folders[kind]
  return folder.step(before, completed(entry, kind, before, by))
}

/**
 * Where a thing comes to, entry by entry: in order, as if the voided ones had never been.
 * @param seen is called with each entry as it is folded, and what it led to
 */
export function foldThrough<K extends Kind>(
  kind: K,
  live: readonly Draft[],
  by: Around,
  seen: (entry: Draft, after: Folded<ContextOf<K>, ValueOf<K>>) => void = () => {},
): Folded<ContextOf<K>, ValueOf<K>> {
  const { blank, order }: FolderOf<K> = folders[kind]
  const taken = (before: Folded<ContextOf<K>, ValueOf<K>>, entry: Draft) =>
    step(kind, before, entry, by)
  let folded = blank
  for (const entry of order?.arranged(live, by, blank, taken) ?? live) {
    folded = taken(folded, entry)
    seen(entry, folded)
  }
  return folded
}

/** A thing from its entries. */
export function refold<K extends Kind>(kind: K, entries: readonly Draft[], by: Around): Thing<K> {
  const { whole }: FolderOf<K> = folders[kind]
  const live = liveIn(entries)
  return { ...(whole?.(live) ?? foldThrough(kind, live, by)), entries }
}
