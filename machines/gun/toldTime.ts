import { streamsOf } from '../catalog.ts'
import type { Draft } from '../envelope.ts'
import { type State, thingOf } from '../state.ts'

/**
 * When that was of which an entry of a gun or cup says something, UTC ms: a void says it of what it voids, long ago where
 * that is not held.
 * @returns null for an entry of neither
 */
export function toldTime(state: State, entry: Draft): number | null {
  let at: number | null = null
  for (const ref of streamsOf(entry)) {
    if (ref.kind !== 'gun' && ref.kind !== 'cup') continue
    if (entry.type !== 'EntryVoided') return entry.at
    const voided = thingOf(state, ref)?.entries.find(({ id }) => id === entry.data.entry)
    at = voided?.at ?? at ?? 0
  }
  return at
}
