import { streamsOf } from '../catalog.ts'
import { cupsNamedIn } from '../complete.ts'
import type { Draft } from '../envelope.ts'
import { type State, thingOf } from '../state.ts'
import { filledSince, isFilled, isOutOfGun } from './filled.ts'
import { isGunKnown } from './find.ts'

/**
 * When that was of which an entry of a gun or cup says something, UTC ms: a void says it of what it voids, long ago where
 * that is not held.
 * @returns null for an entry of neither
 */
export function toldTime(state: State, entry: Draft): number | null {
  const refs = streamsOf(entry).filter(({ kind }) => kind === 'gun' || kind === 'cup')
  if (refs.length === 0) return null
  if (entry.type !== 'EntryVoided') return entry.at
  const held = refs.flatMap((ref): readonly Draft[] => thingOf(state, ref)?.entries ?? [])
  return held.find(({ id }) => id === entry.data.entry)?.at ?? 0
}

/** Whether an entry is of a cup that took what was in a gun at a time that this holds no more. */
export const isOutOfLost = (state: State, e: Draft): boolean =>
  isOutOfGun(e) && !isGunKnown(state, e.gun ?? '', e.at)

/** Whether an entry is of a cup that came out of one that is evicted: what is told of that reaches it no more. */
export const isOutOfEvicted = (state: State, e: Draft): boolean =>
  isFilled(e) && cupsNamedIn([e]).some((id) => !thingOf(state, { kind: 'cup', id }))

/** Whether an entry says something of before a cup was made of what is evicted: only who reads that knows what it means. */
export function isOfEvicted(state: State, entry: Draft): boolean {
  const at = toldTime(state, entry)
  if (at === null) return false
  const isLost = (e: Draft) =>
    isOutOfLost(state, e) || (e.id !== entry.id && isOutOfEvicted(state, e))
  return filledSince(state.things.cup, at, isLost).length > 0
}
