import type { Around } from './around.ts'
import type { Kind } from './catalog.ts'
import { completed } from './complete.ts'
import type { Draft } from './envelope.ts'
import { folders } from './folders.ts'
import { liveIn, voidedIn } from './live.ts'
import { sprayMsOf } from './panel/spraying.ts'
import type { Folded, Folder } from './replay.ts'
import { isWithin } from './spans.ts'
import { type State, thingOf } from './state.ts'
import type { ContextOf, Thing, ValueOf } from './things.ts'

/** Where one thing comes to by its entries, with what these take from other things of a state. */

export type FolderOf<K extends Kind> = Folder<ContextOf<K>, ValueOf<K>>

/** What is being looked up already: cups, and guns with the instant that they are asked for. */
type Within = { readonly cups: readonly string[]; readonly guns: ReadonlyMap<string, number> }
const NOTHING: Within = { cups: [], guns: new Map() }

/** What went into a gun up to an instant since it was last cleaned; nothing before that is in it. */
export function loadsSince(entries: readonly Draft[], at: number): Draft[] {
  const live = liveIn(entries).filter((e) => e.at <= at)
  return live.slice(
    Math.max(
      0,
      live.findLastIndex(({ type }) => type === 'GunCleaned'),
    ),
  )
}

/** What an entry may take from other things. */
export function around(state: State, within: Within = NOTHING): Around {
  const isFirst = within === NOTHING
  const cupOf = (id: string, isThen: (entries: readonly Draft[]) => readonly Draft[] | null) => {
    const thing = within.cups.includes(id) ? undefined : thingOf(state, { kind: 'cup', id })
    const then = thing && isThen(thing.entries)
    if (!thing || !then) return null
    const isNow = then.length === thing.entries.length && isFirst
    const cup = isNow
      ? thing
      : refold('cup', then, around(state, { ...within, cups: [...within.cups, id] }))
    return cup.value === 'unmixed' ? null : cup.context
  }
  return {
    state,
    sprayMs: (panel, at) => sprayMsOf(state, panel, at),
    cupAt: (id, at) =>
      cupOf(id, (all) => ((all.at(-1)?.at ?? 0) <= at ? all : until(all, (e) => e.at <= at))),
    gunAt: (id, at) => {
      const thing = thingOf(state, { kind: 'gun', id })
      if (!thing || (thing.heldMs && !isWithin(thing.heldMs, at))) return null
      // What a load took from a cup may rest on what came back into that cup before, never on what came later.
      if ((within.guns.get(id) ?? Number.POSITIVE_INFINITY) <= at) return null
      if (isFirst && (thing.entries.at(-1)?.at ?? 0) <= at) return thing.context
      const guns = new Map([...within.guns, [id, at]])
      return refold('gun', loadsSince(thing.entries, at), around(state, { ...within, guns }))
        .context
    },
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
