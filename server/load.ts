import type { Entry } from '../machines/envelope.ts'
import { fold } from '../machines/fold.ts'
import { emptyState, type State } from '../machines/state.ts'
import { trim } from '../machines/trim.ts'
import { emptyHead } from './log/chain.ts'
import { inPages, type Store } from './log/log.ts'
import { isKnown, readerOf } from './reading.ts'
import { usableSnapshot } from './snapshot.ts'
import { bringBack, wantedByEntry } from './thaw.ts'

/** A shop as read from its log. */
export type Loaded = {
  readonly state: State
  /** Whether there are entries that this program does not know. They are kept, not folded. */
  readonly isNewer: boolean
  /** Up to where the snapshot was that it started from; 0 without one. */
  readonly snapshotAt: number
}

/**
 * Folds a shop: from its snapshot if that can be used, else from the log alone.
 * @param every how many entries lie between two snapshots
 * @param letGoAt the shop's time, UTC ms: what is over at that time is evicted; null while that time is
 *   not confirmed, and then nothing is
 * @throws LogError
 */
export async function loadShop(
  store: Store,
  shop: string,
  every: number,
  letGoAt: number | null,
): Promise<Loaded> {
  const snapshot = await usableSnapshot(store, shop, readerOf(store, shop))
  const start = snapshot ?? emptyState(shop, emptyHead(shop).hash)
  const from = { state: start, isNewer: false, snapshotAt: snapshot?.head ?? 0 }
  const loaded = await foldOn(store, from, every, letGoAt)
  return { ...loaded, state: letGoAt === null ? loaded.state : trim(loaded.state, letGoAt) }
}

/** Folds what the log has beyond a state. */
export async function foldOn(
  store: Store,
  from: Loaded,
  every: number,
  letGoAt: number | null,
): Promise<Loaded> {
  const { shop } = from.state
  const reader = readerOf(store, shop)
  let { state, isNewer } = from
  for await (const entry of inPages(reader.page, { after: state.head })) {
    isNewer ||= !isKnown(entry)
    state = isKnown(entry) ? await withEntry(store, state, entry) : passing(state, entry)
    // Otherwise a log of years would be held whole in memory while it is folded.
    if (entry.position % every === 0 && letGoAt !== null) state = trim(state, letGoAt)
  }
  return { ...from, state, isNewer }
}

/** The entry may be about something that the state evicted before it was recorded. */
async function withEntry(store: Store, state: State, entry: Entry): Promise<State> {
  const before = readerOf(store, state.shop, entry.position)
  return fold(await bringBack(state, await wantedByEntry(entry, before), before), entry)
}

/** The head moves on; the entry's content is for a newer program. */
const passing = (state: State, { position, hash, recordedAt }: Entry): State => ({
  ...state,
  head: position,
  headHash: hash,
  recordedAt: Math.max(state.recordedAt, recordedAt),
})
