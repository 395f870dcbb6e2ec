import { streamsOf, type ThingRef } from '../catalog.ts'
import type { Draft } from '../envelope.ts'
import { type State, thingOf } from '../state.ts'
import { isOutOfGun } from './back.ts'
import { isGunKnown } from './find.ts'
import { lostTime } from './lost.ts'

/**
 * The cups that took something out of a gun at a time that it holds no more, where an entry says something of what was
 * in it by then: they are to be read again.
 * @param state with the entry
 */
export function filledOtherwise(state: State, entry: Draft): Set<string> {
  const found = new Set<string>()
  const at = lostTime(state, entry)
  if (at === null) return found
  const guns = new Set<string>()
  const addGunsOf = ({ kind, id }: ThingRef) => {
    if (kind === 'gun') guns.add(id)
    const entries = kind === 'cup' ? (thingOf(state, { kind, id })?.entries ?? []) : []
    for (const { gun, data } of entries) if (gun !== undefined && 'load' in data) guns.add(gun)
  }
  streamsOf(entry).forEach(addGunsOf)
  const isOfThen = (e: Draft) =>
    isOutOfGun(e) &&
    at <= e.at &&
    !isGunKnown(state, e.gun ?? '', e.at) &&
    (guns.has(e.gun ?? '') || e.id === entry.id)
  // What came of such a cup may have been in the next gun.
  for (let before = -1; before < found.size; ) {
    before = found.size
    for (const [id, { entries }] of Object.entries(state.things.cup)) {
      if (found.has(id) || !entries.some(isOfThen)) continue
      found.add(id)
      addGunsOf({ kind: 'cup', id })
    }
  }
  return found
}
