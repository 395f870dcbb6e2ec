import { type ReadonlySignal, signal } from '@preact/signals'
import { type DBSchema, openDB } from 'idb'
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

/** Where the entries are kept on the device. */
type EntryStore = {
  /** In order of position. */
  readonly all: () => Promise<readonly Entry[]>
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
  readonly store: Promise<EntryStore>
  readonly fetch: Fetch
}): LogMemory {
  const gone = signal<Gone | null>(null)
  let fresh: Entry[] = []
  let turn: Promise<void> = from.store.then(async (store) => {
    gone.value = await store.gone()
  })
  const next = (work: (store: EntryStore) => Promise<void>): Promise<void> => {
    turn = turn.then(async () => await work(await from.store)).catch(() => {})
    return turn
  }

  async function entriesAfter(after: number, limit: number): Promise<readonly Entry[]> {
    const response = await from.fetch(`/api/entries?after=${after}&limit=${limit}`)
    if (!response.ok) throw new Error(`The server answered ${response.status}.`)
    return ((await response.json()) as EntriesAnswer).entries
  }

  async function keep(store: EntryStore, entries: readonly Entry[]): Promise<void> {
    await store.add(entries)
    const all = await store.all()
    if (all.length > KEPT_MOST)
      await store.remove(all.slice(0, -KEPT_MOST).map(({ position }) => position))
  }

  /** Whether the log has the newest entry that is known here, and with it all before. */
  async function isWhole(last: Entry): Promise<boolean> {
    const [there] = await entriesAfter(last.position - 1, 1)
    return there?.hash === last.hash
  }

  async function compare(store: EntryStore, head: number): Promise<void> {
    const known = await store.all()
    const [first, last] = [known[0], known.at(-1)]
    if (!first || !last || (await isWhole(last))) return
    const inLog = await entriesAfter(first.position - 1, KEPT_MOST)
    const missing = missingIn(known, inLog)
    const before = (await store.gone())?.entries ?? []
    const all = new Map([...before, ...missing].map((entry) => [entry.hash, entry]))
    const entries = [...all.values()].sort((a, b) => a.position - b.position)
    const found: Gone = { entries, knownHead: last.position, head }
    // First what is to be exported: a page that is closed now finds both.
    await store.keepGone(found)
    await store.remove(missing.map(({ position }) => position))
    gone.value = found
  }

  async function fill(store: EntryStore, head: number): Promise<void> {
    const last = (await store.all()).at(-1)?.position ?? 0
    const after = Math.max(last, head - KEPT_MOST)
    if (after < head) await keep(store, await entriesAfter(after, KEPT_MOST))
  }

  return {
    gone,
    seen(entry) {
      fresh.push(entry)
      // Whatever comes while one write is under way is written together.
      void next(async (store) => {
        if (fresh.length === 0) return
        const entries = fresh
        fresh = []
        await keep(store, entries)
      })
    },
    loaded({ head }) {
      void next(async (store) => {
        await compare(store, head)
        await fill(store, head)
      })
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

type Schema = DBSchema & {
  known: { key: number; value: Entry }
  gone: { key: string; value: Gone }
}

const NAME = 'flashbell-log'
const GONE = 'gone'

/** Opens the browser's own database of what is known of the log. @throws where it keeps nothing */
export async function openEntryDb(): Promise<EntryStore> {
  const db = await openDB<Schema>(NAME, 1, {
    upgrade(made) {
      made.createObjectStore('known', { keyPath: 'position' })
      made.createObjectStore('gone')
    },
  })
  return {
    all: () => db.getAll('known'),
    async add(entries) {
      const tx = db.transaction('known', 'readwrite')
      await Promise.all([...entries.map((entry) => tx.store.put(entry)), tx.done])
    },
    async remove(positions) {
      const tx = db.transaction('known', 'readwrite')
      await Promise.all([...positions.map((position) => tx.store.delete(position)), tx.done])
    },
    gone: async () => (await db.get('gone', GONE)) ?? null,
    async keepGone(gone) {
      if (gone === null) await db.delete('gone', GONE)
      else await db.put('gone', gone, GONE)
    },
  }
}

/** For a browser that keeps nothing: as long as the page lives. */
export function memoryEntries(): EntryStore {
  const known = new Map<number, Entry>()
  let gone: Gone | null = null
  return {
    all: async () => [...known.values()].sort((a, b) => a.position - b.position),
    async add(entries) {
      for (const entry of entries) known.set(entry.position, entry)
    },
    async remove(positions) {
      for (const position of positions) known.delete(position)
    },
    gone: async () => gone,
    async keepGone(next) {
      gone = next
    },
  }
}
