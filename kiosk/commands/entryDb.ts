import { type DBSchema, openDB } from 'idb'
import type { Entry } from '../../machines/envelope.ts'
import type { Gone } from './logMemory.ts'

/** Where the newest entries of the log are kept on the device. */
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
    at: (position) => db.get('known', position),
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
    at: async (position) => known.get(position),
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
