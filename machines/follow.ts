import type { Entry } from './envelope.ts'
import { fold } from './fold.ts'
import { toldTime } from './gun/toldTime.ts'
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

/** What is said of a cup or gun of so long ago may be about what came of one that is evicted since. */
const LONG_AGO_MS = 12 * 60 * 60_000

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
  if ((toldTime(next, entry) ?? now) < now - LONG_AGO_MS) return null
  return airMissing(next, clocksChanged(state, next, [entry], now), now).length === 0 ? next : null
}
