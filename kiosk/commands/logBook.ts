import type { EntriesAnswer } from '../../machines/contract.ts'
import type { Entry } from '../../machines/envelope.ts'
import { type EntryStore, memoryEntries, openEntryDb } from './entryDb.ts'
import type { Fetch } from './link.ts'
import type { Gone, LogBook } from './logMemory.ts'

/** The newest entries of the log as this device keeps them, and what of them a log does not have. Fetched after a first Wall. */

/** How many of the newest entries are kept. */
const KEPT_MOST = 500
/** A server that takes longer than this to send entries has not answered. */
const ENTRIES_WITHIN_MS = 10_000

/**
 * What of the known entries a log does not have.
 * @param known in order of position
 * @param inLog what the log has at those positions
 */
function missingIn(known: readonly Entry[], inLog: readonly Entry[]): readonly Entry[] {
  const hashes = new Map(inLog.map(({ position, hash }) => [position, hash]))
  // Each hash vouches for all before it: the last one that is there ends what is shared.
  const shared = known.findLast(({ position, hash }) => hashes.get(position) === hash)
  return known.filter(({ position }) => position > (shared?.position ?? 0))
}

/** The book in the browser's own database; in one that keeps nothing, for as long as the page lives. */
export const openBook = async (fetch: Fetch): Promise<LogBook> =>
  bookOf(await openEntryDb().catch(memoryEntries), fetch)

/** @param fetch asks the server whose log it is */
export function bookOf(store: EntryStore, fetch: Fetch): LogBook {
  async function entriesAfter(after: number, limit: number): Promise<readonly Entry[]> {
    const response = await fetch(`/api/entries?after=${after}&limit=${limit}`, {
      signal: AbortSignal.timeout(ENTRIES_WITHIN_MS),
    })
    if (!response.ok) throw new Error(`The server answered ${response.status}.`)
    return ((await response.json()) as EntriesAnswer).entries
  }

  async function keep(entries: readonly Entry[]): Promise<void> {
    await store.add(entries)
    const all = await store.all()
    if (all.length > KEPT_MOST)
      await store.remove(all.slice(0, -KEPT_MOST).map(({ position }) => position))
  }

  return {
    gone: store.gone,
    keepGone: store.keepGone,
    keep,
    async isOther(entries) {
      const known = await Promise.all(entries.map(({ position }) => store.at(position)))
      return entries.some(({ hash }, i) => hash !== (known[i]?.hash ?? hash))
    },
    async lost() {
      const known = await store.all()
      const [first, last] = [known[0], known.at(-1)]
      if (!first || !last) return []
      // With the newest entry that is known here the log has all before.
      const [there] = await entriesAfter(last.position - 1, 1)
      if (there?.hash === last.hash) return []
      return missingIn(known, await entriesAfter(first.position - 1, KEPT_MOST))
    },
    withLost(before, lost, head) {
      const all = new Map([...(before?.entries ?? []), ...lost].map((entry) => [entry.hash, entry]))
      const entries = [...all.values()].sort((a, b) => a.position - b.position)
      return { entries, knownHead: lost.at(-1)?.position ?? head, head } satisfies Gone
    },
    forget: (lost) => store.remove(lost.map(({ position }) => position)),
    async fill(head) {
      const last = (await store.all()).at(-1)?.position ?? 0
      const after = Math.max(last, head - KEPT_MOST)
      if (after < head) await keep(await entriesAfter(after, KEPT_MOST))
    },
  }
}
