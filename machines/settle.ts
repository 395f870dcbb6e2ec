import type { Kind, ThingRef } from './catalog.ts'
import { settledBy } from './complete.ts'
import type { Draft } from './envelope.ts'
import { takersOf } from './fold.ts'
import { around } from './refold.ts'
import { type State, thingOf, withThing } from './state.ts'

/** Whether an entry takes something from one of some cups. The others are still there to be asked. */
function takesFrom({ cup, data }: Draft, cups: ReadonlySet<string>): boolean {
  const { load, from } = data as {
    load?: { cup?: string }
    from?: readonly { cup?: string }[]
  }
  const isOfThem = (id: string | undefined) => id !== undefined && cups.has(id)
  return isOfThem(cup) || isOfThem(load?.cup) || (from?.some((one) => isOfThem(one.cup)) ?? false)
}

/** A thing whose entries keep what they took from cups that will not be there. */
function settledIn<K extends Kind>(
  state: State,
  ref: ThingRef<K>,
  cups: ReadonlySet<string>,
): State {
  const thing = thingOf(state, ref)
  if (!thing) return state
  const entries = thing.entries.map((entry) =>
    takesFrom(entry, cups) ? settledBy(entry, around(state)) : entry,
  )
  const isSame = entries.every((entry, i) => entry === thing.entries[i])
  return isSame ? state : withThing(state, ref, { ...thing, entries })
}

/**
 * The state before some cups are evicted: what took its figures from them, because it was recorded
 * before they were known, keeps these from now on.
 */
export function settled(state: State, cups: readonly string[]): State {
  const takers = cups.flatMap((id) => takersOf(thingOf(state, { kind: 'cup', id })?.entries ?? []))
  // Each once: a gun has taken from many of them.
  const each = new Map(takers.map((ref) => [`${ref.kind} ${ref.id}`, ref]))
  const gone = new Set(cups)
  return [...each.values()].reduce((whole, ref) => settledIn(whole, ref, gone), state)
}
