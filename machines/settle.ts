import type { Kind, ThingRef } from './catalog.ts'
import { settledBy } from './complete.ts'
import { completedUse } from './completeCup.ts'
import type { Draft } from './envelope.ts'
import { takersOf } from './fold.ts'
import { cupsBackFrom } from './gun/back.ts'
import { isOutOfGun } from './gun/filled.ts'
import { cupsAt } from './panel/placed.ts'
import { around } from './refold.ts'
import { type State, thingOf, withThing } from './state.ts'

/** Whether an entry takes something from one of some cups, or from a gun. The others are still there to be asked. */
function takesFrom(entry: Draft, cups: ReadonlySet<string>): boolean {
  const { cup, data } = entry
  const { load, from } = data as {
    load?: { cup?: string }
    from?: readonly { cup?: string }[]
  }
  const isOfThem = (id: string | undefined) => id !== undefined && cups.has(id)
  return (
    isOutOfGun(entry) ||
    isOfThem(cup) ||
    isOfThem(load?.cup) ||
    (from?.some((one) => isOfThem(one.cup)) ?? false)
  )
}

/** A thing whose entries keep what they took from others that will not be there. */
function settledIn<K extends Kind>(
  state: State,
  ref: ThingRef<K>,
  settle: (entry: Draft) => Draft,
): State {
  const thing = thingOf(state, ref)
  if (!thing) return state
  const entries = thing.entries.map(settle)
  const isSame = entries.every((entry, i) => entry === thing.entries[i])
  return isSame ? state : withThing(state, ref, { ...thing, entries })
}

/**
 * The state before some cups and panels are evicted: what took its figures from a cup, because it was recorded
 * before that was known, keeps these from now on, and a cup where its panel was.
 */
export function settled(state: State, cups: readonly string[], panels: readonly string[]): State {
  // Each once: a gun has taken from many of them.
  const each = new Map<string, ThingRef>()
  const add = (ref: ThingRef) => each.set(`${ref.kind} ${ref.id}`, ref)
  for (const id of cups) takersOf(thingOf(state, { kind: 'cup', id })?.entries ?? []).forEach(add)
  const guns = [...each.values()].filter(({ kind }) => kind === 'gun')
  for (const gun of guns) for (const id of cupsBackFrom(state, gun.id)) add({ kind: 'cup', id })
  const goneCups = new Set(cups)
  const keepsTaken = (entry: Draft) =>
    takesFrom(entry, goneCups) ? settledBy(entry, around(state)) : entry
  const gonePanels = new Set(panels)
  const placed = panels.flatMap((id) =>
    cupsAt(thingOf(state, { kind: 'panel', id })?.entries ?? []),
  )
  const keepsPlace = (entry: Draft) =>
    gonePanels.has(entry.panel ?? '') ? completedUse(entry, around(state)) : entry
  const whole = [...each.values()].reduce((next, ref) => settledIn(next, ref, keepsTaken), state)
  return [...new Set(placed)]
    .filter((id) => !goneCups.has(id))
    .reduce((next, id) => settledIn(next, { kind: 'cup', id }, keepsPlace), whole)
}

/** The state before a gun loses of its past: what came out of it keeps what that was. */
export const settledFromGun = (state: State, gun: string): State =>
  cupsBackFrom(state, gun).reduce(
    (next, id) =>
      settledIn(next, { kind: 'cup', id }, (entry) =>
        isOutOfGun(entry) ? settledBy(entry, around(state)) : entry,
      ),
    state,
  )
