import { type ReadonlySignal, signal } from '@preact/signals'
import type { EntriesAnswer, StateAnswer } from '../../machines/contract.ts'
import type { Entry } from '../../machines/envelope.ts'
import type { Fetch } from './link.ts'

/**
 * What this kiosk knows of the server's log: its newest entries. A log that was restored or cut does
 * not have all of them any more; then they are kept here for an export, and said on every screen.
 */

/** Entries that the server's log has lost, as this kiosk knows them. */
export type Gone = {
  /** In order of position; the newest that were still kept here. */
  readonly entries: readonly Entry[]
  /** How many entries the log had by what this kiosk knows, and how many it has. */
  readonly knownHead: number
  readonly head: number
}

/** Where the entries are kept on the device (entryDb.ts). */
export type EntryStore = {
  /** In order of position. */
  readonly all: () => Promise<readonly Entry[]>
  /** The one at a position, where there is one. */
  readonly at: (position: number) => Promise<Entry | undefined>
  readonly add: (entries: readonly Entry[]) => Promise<void>
  /** Lets go of entries by their positions. */
  readonly remove: (positions: readonly number[]) => Promise<void>
  readonly gone: () => Promise<Gone | null>
  readonly keepGone: (gone: Gone | null) => Promise<void>
}

export type LogMemory = {
  /** What is missing, until somebody dismisses it. */
  readonly gone: ReadonlySignal<Gone | null>
  readonly seen: (entry: Entry) => void
  readonly loaded: (answer: Pick<StateAnswer, 'head'>) => void
  readonly dismiss: () => Promise<void>
  /** Resolves when all that was heard until now is kept. */
  readonly settled: () => Promise<void>
}

/** How many of the newest entries are kept. */
const KEPT_MOST = 500
/** A server that takes longer than this to send entries has not answered. */
const ENTRIES_WITHIN_MS = 10_000
/** When a server is asked again that did not send its entries. */
const AGAIN_MS = 5_000

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

/** Never throws: a device that keeps nothing only forgets. */
export function logMemory(from: {
  /** Opens it, or gives what is open. It may reject: then it is asked for again. */
  readonly store: () => Promise<EntryStore>
  readonly fetch: Fetch
  readonly wait: (ms: number) => Promise<void>
}): LogMemory {
  const gone = signal<Gone | null>(null)
  let fresh: Entry[] = []
  /** The head of a log that is still to be compared: until then nothing is written over what is known. */
  let toCompare: number | null = null
  let isAsking = false
  let isRead = false
  /** With what an earlier page found to be gone. */
  async function opened(): Promise<EntryStore> {
    const store = await from.store()
    if (!isRead) gone.value = await store.gone()
    isRead = true
    return store
  }
  let turn: Promise<void> = Promise.resolve()
  const next = (work: (store: EntryStore) => Promise<void>): Promise<void> => {
    turn = turn.then(async () => await work(await opened())).catch(() => {})
    return turn
  }
  void next(async () => {})

  async function entriesAfter(after: number, limit: number): Promise<readonly Entry[]> {
    const response = await from.fetch(`/api/entries?after=${after}&limit=${limit}`, {
      signal: AbortSignal.timeout(ENTRIES_WITHIN_MS),
    })
    if (!response.ok) throw new Error(`The server answered ${response.status}.`)
    return ((await response.json()) as EntriesAnswer).entries
  }

  async function keep(store: EntryStore, entries: readonly Entry[]): Promise<void> {
    await store.add(entries)
    const all = await store.all()
    if (all.length > KEPT_MOST)
      await store.remove(all.slice(0, -KEPT_MOST).map(({ position }) => position))
  }

  /** Whether another entry is known where one of these stands: their log is not the one that was followed. */
  async function isOther(store: EntryStore, entries: readonly Entry[]): Promise<boolean> {
    const known = await Promise.all(entries.map(({ position }) => store.at(position)))
    return entries.some(({ hash }, i) => hash !== (known[i]?.hash ?? hash))
  }

  /** What of the known entries, which are some, the log does not have. @throws where it does not say */
  async function missing(known: readonly [Entry, ...Entry[]]): Promise<readonly Entry[]> {
    const last = known.at(-1) ?? known[0]
    // With the newest entry that is known here it has all before.
    const [there] = await entriesAfter(last.position - 1, 1)
    if (there?.hash === last.hash) return []
    return missingIn(known, await entriesAfter(known[0].position - 1, KEPT_MOST))
  }

  async function compare(store: EntryStore, head: number): Promise<void> {
    const [first, ...rest] = await store.all()
    const lost = first ? await missing([first, ...rest]) : []
    toCompare = null
    const last = lost.at(-1)
    if (!last) return
    const before = (await store.gone())?.entries ?? []
    const all = new Map([...before, ...lost].map((entry) => [entry.hash, entry]))
    const entries = [...all.values()].sort((a, b) => a.position - b.position)
    // Said also by a device that can keep no more.
    gone.value = { entries, knownHead: last.position, head }
    // First what is to be exported: a page that is closed now finds both.
    await store.keepGone(gone.value)
    await store.remove(lost.map(({ position }) => position))
  }

  async function fill(store: EntryStore, head: number): Promise<void> {
    const last = (await store.all()).at(-1)?.position ?? 0
    const after = Math.max(last, head - KEPT_MOST)
    if (after < head) await keep(store, await entriesAfter(after, KEPT_MOST))
  }

  /** A server that does not send its entries is asked until it does: nobody else would say what is gone. */
  async function askAgain(): Promise<void> {
    if (isAsking) return
    isAsking = true
    await from.wait(AGAIN_MS)
    isAsking = false
    void next(catchUp)
  }

  /** Compares what is to be compared, then writes what was heard. */
  async function catchUp(store: EntryStore): Promise<void> {
    const newest = fresh.at(-1)
    // An answer to a press may come before the log was looked at.
    if (newest && (await isOther(store, fresh))) toCompare ??= newest.position
    const head = toCompare
    if (head !== null) {
      await compare(store, head).catch((fault) => {
        if (toCompare !== null) void askAgain()
        throw fault
      })
      await fill(store, head)
    }
    // Whatever came while one write was under way is written together.
    const entries = fresh
    fresh = []
    if (entries.length > 0) await keep(store, entries)
  }

  return {
    gone,
    seen(entry) {
      fresh.push(entry)
      if (fresh.length > KEPT_MOST) fresh.shift()
      void next(catchUp)
    },
    loaded({ head }) {
      toCompare = head
      void next(catchUp)
    },
    dismiss: () =>
      next(async (store) => {
        await store.keepGone(null)
        gone.value = null
      }),
    settled: () => turn,
  }
}

/** One entry a line, as the server's own export has them. */
export const jsonLines = (entries: readonly Entry[]): string =>
  entries.map((entry) => `${JSON.stringify(entry)}\n`).join('')
