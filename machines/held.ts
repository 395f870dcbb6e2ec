import type { Kind, ThingRef } from './catalog.ts'
import type { Draft } from './envelope.ts'
import { SETS_UP } from './fold.ts'
import { isPastForgotten } from './gun/past.ts'
import { liveIn } from './live.ts'
import { around, refold } from './refold.ts'
import { FOREVER_MS, isWithin, type Span } from './spans.ts'
import type { State } from './state.ts'
import type { Thing } from './things.ts'

/** A thing that lost nothing is like one that was never evicted from: a restart gives the same state. */
const isAllTime = ([first]: readonly Span[]): boolean =>
  first?.fromMs === 0 && first.toMs === FOREVER_MS

/**
 * A thing that holds only some times of its past, as if what is of other times had never been.
 * @param heldMs these times, UTC ms
 */
export function withHeld<K extends Kind>(
  state: State,
  { kind }: ThingRef<K>,
  thing: Thing<K>,
  heldMs: readonly Span[],
): Thing<K> {
  const isOfThen = (e: Draft) => isWithin(heldMs, e.at) || SETS_UP.includes(e.type)
  const kept = new Set<unknown>()
  for (const e of thing.entries) if (e.type !== 'EntryVoided' && isOfThen(e)) kept.add(e.id)
  const entries = thing.entries.filter((e) => kept.has(e.id) || kept.has(e.data.entry))
  const isSame = entries.length === thing.entries.length
  if (isSame && thing.heldMs === undefined && isAllTime(heldMs)) return thing
  if (isSame) return { ...thing, heldMs }
  if (kind !== 'gun' || !isPastForgotten(liveIn(entries)))
    return { ...refold(kind, entries, around(state)), heldMs }
  // Hundreds of entries of a gun that is cleaned every time would be folded again for the few that are let go of.
  return { ...thing, entries, notTaken: thing.notTaken.filter((id) => kept.has(id)), heldMs }
}
