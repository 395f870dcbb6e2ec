import type { Kind, ThingRef } from './catalog.ts'
import { PROTOCOL } from './contract/lifts.ts'
import type { Deciding, NewFact } from './deciding.ts'
import { folders } from './folders.ts'
import type { Folder } from './replay.ts'
import { stamp } from './stamp.ts'
import { type State, thingOf } from './state.ts'
import type { ContextOf, Thing, ValueOf } from './things.ts'

/**
 * Whether a thing's chart takes a fact from where the thing stood then: the one authority on what
 * may follow what.
 * @param thing undefined for one that has no entries yet
 */
export function can<K extends Kind>(
  d: Deciding,
  kind: K,
  thing: Thing<K> | undefined,
  fact: NewFact,
): boolean {
  const folder: Folder<ContextOf<K>, ValueOf<K>> = folders[kind]
  return stamp(d, [fact]).every((draft) => folder.can(thing ?? folder.blank, draft))
}

/**
 * The same of a fact that would be live now: for what a screen offers.
 * @param at kiosk time, UTC ms
 */
export function canNow<K extends Kind>(
  state: State,
  ref: ThingRef<K>,
  fact: NewFact,
  at: number,
): boolean {
  const command = { id: 'now', protocol: PROTOCOL, type: fact.type, data: fact.data }
  const times = { at, enteredAt: at, now: at, isLive: true }
  return can({ state, command, data: fact.data, ...times }, ref.kind, thingOf(state, ref), fact)
}
