import { streamsOf, type ThingRef } from '../catalog.ts'
import type { Draft } from '../envelope.ts'
import { type State, thingOf } from '../state.ts'
import { isOutOfEvicted, isOutOfLost, toldTime } from './evicted.ts'
import { filledSince } from './filled.ts'

/**
 * The cups that are to be read again because an entry says something of what was before they were made: they came out of
 * a gun at a time that it holds no more, or of a cup that is evicted and may have come out of anything.
 * @param state with the entry
 */
export function filledOtherwise(state: State, entry: Draft): Set<string> {
  const found = new Set<string>()
  const at = toldTime(state, entry)
  const late = at === null ? [] : filledSince(state.things.cup, at)
  if (at === null || late.length === 0) return found
  const guns = new Set<string>()
  const addGunsOf = ({ kind, id }: ThingRef) => {
    if (kind === 'gun') guns.add(id)
    const entries = kind === 'cup' ? (thingOf(state, { kind, id })?.entries ?? []) : []
    for (const { gun, data } of entries) if (gun !== undefined && 'load' in data) guns.add(gun)
  }
  streamsOf(entry).forEach(addGunsOf)
  const isOfThen = (e: Draft) =>
    at <= e.at &&
    ((isOutOfLost(state, e) && (guns.has(e.gun ?? '') || e.id === entry.id)) ||
      (e.id !== entry.id && isOutOfEvicted(state, e)))
  // What came of such a cup may have been in the next gun.
  for (let before = -1; before < found.size; ) {
    before = found.size
    for (const id of late) {
      const entries = thingOf(state, { kind: 'cup', id })?.entries ?? []
      if (found.has(id) || !entries.some(isOfThen)) continue
      found.add(id)
      addGunsOf({ kind: 'cup', id })
    }
  }
  return found
}
