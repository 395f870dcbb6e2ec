import { streamsOf } from '../catalog.ts'
import type { Draft } from '../envelope.ts'
import { isWithin } from '../spans.ts'
import type { State } from '../state.ts'

/**
 * When that was of which an entry of a gun or cup says something, UTC ms: a void says it of what it voids, long ago where
 * that is not held.
 * @returns null for one of a time that every gun holds
 */
export function lostTime({ things }: State, entry: Draft): number | null {
  const ofCups = streamsOf(entry).filter(({ kind }) => kind === 'gun' || kind === 'cup')
  const all = ofCups.flatMap(({ kind, id }): readonly Draft[] => things[kind][id]?.entries ?? [])
  const voided = all.find(({ id }) => id === entry.data.entry)
  const at = entry.type === 'EntryVoided' ? (voided?.at ?? 0) : entry.at
  const isLost = Object.values(things.gun).some(({ heldMs }) => heldMs && !isWithin(heldMs, at))
  return ofCups.length > 0 && isLost ? at : null
}
