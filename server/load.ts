import { streamsOf } from '../machines/catalog.ts'
import type { Entry } from '../machines/envelope.ts'
import { evict } from '../machines/evict.ts'
import { fold } from '../machines/fold.ts'
import { evictedFor } from '../machines/needs.ts'
import { clocksChanged } from '../machines/standing.ts'
import { emptyState, type State } from '../machines/state.ts'
import { withFilledAgain } from './filledAgain.ts'
import { emptyHead } from './log/chain.ts'
import { checkedEnd } from './log/end.ts'
import { inPages, type Store } from './log/log.ts'
import { openWorkOf } from './openWork.ts'
import { isKnown, readerOf, understood } from './reading.ts'
import { reload, withAir } from './reload.ts'
import { usableSnapshot } from './snapshot.ts'

/** A shop as read from its log. */
export type Loaded = {
  readonly state: State
  /** Whether there are entries that this program does not know. They are kept, not folded. */
  readonly isNewer: boolean
  /** Up to where the snapshot was that it started from; 0 without one. */
  readonly snapshotAt: number
}

/** By what a shop is loaded: what stands in front of it, and the time. */
export type LoadDeps = {
  readonly store: Store
  /** How many entries lie between two snapshots, and between two evictions while it is folded. */
  readonly every: number
  /** UTC ms by the server's clock. */
  readonly now: number
  /** Whether that clock is right: else nothing is evicted. */
  readonly mayEvict: boolean
}

/**
 * Folds a shop: from its snapshot if that can be used, else from what was open when the last one was kept,
 * else from its first entry on.
 * @throws LogError
 */
export async function loadShop(shop: string, deps: LoadDeps): Promise<Loaded> {
  const { store, now, mayEvict } = deps
  await checkedEnd(store, shop)
  const snapshot = await usableSnapshot(store, shop, readerOf(store, shop))
  const start =
    snapshot ?? (await openWorkOf(store, shop)) ?? emptyState(shop, emptyHead(shop).hash)
  const from = { state: start, isNewer: false, snapshotAt: snapshot?.head ?? 0 }
  const loaded = await foldOn(from, deps)
  return mayEvict ? { ...loaded, state: onlyOpen(loaded.state, now) } : loaded
}

/** @throws LogError where what is stored cannot be told to be open or over */
const onlyOpen = (state: State, now: number): State =>
  understood(state.shop, 'what is open work', () => evict(state, now))

/** Folds what the log has beyond a state. */
export async function foldOn(from: Loaded, deps: LoadDeps): Promise<Loaded> {
  const { store, every, now, mayEvict } = deps
  const reader = readerOf(store, from.state.shop)
  let { state, isNewer } = from
  for await (const entry of inPages(reader.page, { after: state.head })) {
    isNewer ||= !isKnown(entry)
    const then = Math.min(now, entry.recordedAt)
    state = isKnown(entry) ? await withEntry(store, state, entry, then) : passing(state, entry)
    // A log of years would else be held whole while it is folded.
    if (mayEvict && entry.position % every === 0) state = onlyOpen(state, then)
  }
  return { ...from, state, isNewer }
}

/**
 * The entry may be about something that was evicted before it was recorded. Also what it makes may
 * have been named long before, such as a cup in a coat that was typed in before the cup was.
 */
async function withEntry(store: Store, state: State, entry: Entry, now: number): Promise<State> {
  const reader = readerOf(store, state.shop, entry.position)
  const known = <T>(make: () => T) => understood(state.shop, `entry ${entry.position}`, make)
  const asked = new Set<string>()
  const own = known(() => streamsOf(entry))
  const found = await reload(state, own, reader, asked)
  // A panel that is read says which cups were where it was.
  const others = known(() => evictedFor(found, entry))
  const whole = await reload(found, others, reader, asked)
  const folded = known(() => fold(whole, entry))
  const after = await withFilledAgain(folded, entry, [entry], reader)
  const changed = known(() => clocksChanged(state, after, [entry], now))
  return await withAir(after, changed, now, reader)
}

/** The head moves on; the entry's content is for a newer program. */
const passing = (state: State, { position, hash, recordedAt }: Entry): State => ({
  ...state,
  head: position,
  headHash: hash,
  recordedAt: Math.max(state.recordedAt, recordedAt),
})
