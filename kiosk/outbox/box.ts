import { type DBSchema, type IDBPDatabase, openDB } from 'idb'
import { customAlphabet } from 'nanoid'
import { ID_ALPHABET } from '../../machines/accept.ts'
import { FOLD_VERSION, type State } from '../../machines/state.ts'
import type { Kept } from './kept.ts'

/** What a kiosk keeps on its own device: commands not answered yet, and the shop as last known. */
export type Box = {
  /** The id of this device. Kept with its count: whoever loses one starts both anew. */
  readonly device: string
  /** Keeps a command and counts it; when it resolves, it is on the disk. */
  readonly add: (kept: Omit<Kept, 'seq'>) => Promise<Kept>
  /** In the order in which they were pressed. */
  readonly all: () => Promise<readonly Kept[]>
  /** Changes a command that is still there. */
  readonly put: (kept: Kept) => Promise<void>
  readonly remove: (seq: number) => Promise<void>
  readonly keepState: (state: State) => Promise<void>
  /** The shop as last kept; null for none, or one that this program folds otherwise. */
  readonly keptState: () => Promise<State | null>
}

type Schema = DBSchema & {
  outbox: { key: number; value: Kept }
  own: { key: string; value: string }
  state: { key: number; value: State }
}

const NAME = 'flashbell'
const DEVICE = 'device'
/** Before a command is sent it is to survive a power cut, not only the browser. */
const STRICT = { durability: 'strict' } as const
const deviceId = customAlphabet(ID_ALPHABET, 16)

/**
 * Opens the browser's own database. Every page of this device has the same.
 * @throws what the browser says where it keeps nothing (a private window, a full disk)
 */
export async function openBox(): Promise<Box> {
  const db = await openDB<Schema>(NAME, 1, {
    upgrade(made) {
      // The count goes on where it was, also when the list is empty again.
      made.createObjectStore('outbox', { keyPath: 'seq', autoIncrement: true })
      made.createObjectStore('own')
      made.createObjectStore('state')
    },
  })
  const device = await deviceOf(db)
  return {
    device,
    async add(kept) {
      const tx = db.transaction('outbox', 'readwrite', STRICT)
      // The browser puts the count in.
      const seq = await tx.store.add(kept as Kept)
      await tx.done
      return { ...kept, seq }
    },
    all: () => db.getAll('outbox'),
    async put(kept) {
      const tx = db.transaction('outbox', 'readwrite', STRICT)
      // Another page may have sent it meanwhile.
      if ((await tx.store.getKey(kept.seq)) !== undefined) await tx.store.put(kept)
      await tx.done
    },
    remove: (seq) => db.delete('outbox', seq),
    async keepState(state) {
      const tx = db.transaction('state', 'readwrite')
      await tx.store.clear()
      await tx.store.put(state, FOLD_VERSION)
      await tx.done
    },
    keptState: async () => (await db.get('state', FOLD_VERSION)) ?? null,
  }
}

async function deviceOf(db: IDBPDatabase<Schema>): Promise<string> {
  const tx = db.transaction('own', 'readwrite', STRICT)
  const kept = await tx.store.get(DEVICE)
  const device = kept ?? deviceId()
  if (kept === undefined) await tx.store.put(device, DEVICE)
  await tx.done
  return device
}

/** For a browser that keeps nothing: as long as the page lives. */
export function memoryBox(): Box {
  const kept = new Map<number, Kept>()
  let seq = 0
  let shop: State | null = null
  return {
    device: deviceId(),
    async add(one) {
      seq += 1
      const counted = { ...one, seq }
      kept.set(seq, counted)
      return counted
    },
    all: async () => [...kept.values()],
    async put(one) {
      if (kept.has(one.seq)) kept.set(one.seq, one)
    },
    async remove(which) {
      kept.delete(which)
    },
    async keepState(state) {
      shop = state
    },
    keptState: async () => shop,
  }
}
