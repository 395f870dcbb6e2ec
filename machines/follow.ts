import type { Entry } from './envelope.ts'
import { fold } from './fold.ts'
import { isOfEvicted } from './gun/evicted.ts'
import { evictedFor } from './needs.ts'
import { airMissing, clocksChanged } from './standing.ts'
import type { State } from './state.ts'

/** What is said of a job that is not there changes nothing of what is. */
const SAYS_ONLY: readonly string[] = [
  'NoteAdded',
  'PhotoAdded',
  'DeviationSettled',
  'CauseReviewed',
  'CupShared',
]

/**
 * A kiosk's copy of the shop with the next entry of the log folded on.
 * @param now UTC ms, as the server has it
 * @returns null where it is about what the copy has evicted: then the server's own state shows it
 */
export function follow(state: State, entry: Entry, now: number): State | null {
  const isMissing = evictedFor(state, entry).length > 0
  // What nobody opened yet waits in the state, and with it what was said of it before.
  const isAwaited = entry.outside?.some(({ code }) => code === 'jobUnknown') ?? false
  if (isMissing && SAYS_ONLY.includes(entry.type) && !isAwaited)
    return { ...state, head: entry.position, headHash: entry.hash }
  if (isMissing) return null
  const next = fold(state, entry)
  if (isOfEvicted(next, entry)) return null
  return airMissing(next, clocksChanged(state, next, [entry], now), now).length === 0 ? next : null
}
