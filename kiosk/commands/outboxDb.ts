import { type DBSchema, type IDBPDatabase, openDB } from 'idb'
import { customAlphabet } from 'nanoid'
import { ID_ALPHABET } from '../../machines/accept.ts'
import { type Picture, pictureOf } from './picture.ts'
import { type QueuedCommand, queuedIn, type StoredCommand } from './queuedCommand.ts'

/** What a kiosk keeps on its own device: commands not answered yet. The shop is in keptShop.ts. */
export type OutboxDb = {
  /** The id of this device, kept with its count: where one is lost, both start over. */
  readonly device: string
  /** Whether it is still there when the page is loaded again. */
  readonly lasts: boolean
  /**
   * Keeps a command, with the bytes of the picture that it names, and counts it; when it resolves,
   * both are on the disk. It rejects where the disk is full: then neither is.
   */
  readonly add: (kept: Omit<QueuedCommand, 'seq'>, picture?: Picture) => Promise<QueuedCommand>
  /** In the order in which they were pressed. */
  readonly all: () => Promise<readonly QueuedCommand[]>
  /** Changes a command that is still there. */
  readonly put: (kept: QueuedCommand) => Promise<void>
  /** Lets go of a command, and of its picture unless another waits that names it too. */
  readonly remove: (seq: number) => Promise<void>
  /** The bytes of a picture by its name, while a command here names it. */
  readonly picture: (name: string) => Promise<Picture | null>
}

/** Why a device keeps no press: its storage refuses to write, or what it keeps ends with the page. */
export type StorageTrouble = 'refuses' | 'endsWithPage'

type Schema = DBSchema & {
  outbox: { key: number; value: StoredCommand }
  own: { key: string; value: string }
  /** The shop, as earlier programs kept it here. */
  state: { key: number; value: object }
  pictures: { key: string; value: Picture }
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
export async function openOutboxDb(): Promise<OutboxDb> {
  const db = await openDB<Schema>(NAME, 2, {
    upgrade(made, before) {
      if (before < 1) {
        // The count goes on where it was, also when the list is empty again.
        made.createObjectStore('outbox', { keyPath: 'seq', autoIncrement: true })
        made.createObjectStore('own')
        made.createObjectStore('state')
      }
      made.createObjectStore('pictures')
    },
  })
  const device = await deviceOf(db)
  void db.clear('state').catch(() => {})
  return {
    device,
    lasts: true,
    async add(kept, picture) {
      const tx = db.transaction(['outbox', 'pictures'], 'readwrite', STRICT)
      const name = pictureOf(kept.command)
      const [seq] = await Promise.all([
        // The browser puts the count in.
        tx.objectStore('outbox').add(kept as QueuedCommand),
        picture && name !== null ? tx.objectStore('pictures').put(picture, name) : null,
        tx.done,
      ])
      return { ...kept, seq }
    },
    all: async () => (await db.getAll('outbox')).map(queuedIn),
    async put(kept) {
      const tx = db.transaction('outbox', 'readwrite', STRICT)
      // Another page may have sent it meanwhile.
      if ((await tx.store.getKey(kept.seq)) !== undefined) await tx.store.put(kept)
      await tx.done
    },
    async remove(seq) {
      const tx = db.transaction(['outbox', 'pictures'], 'readwrite')
      const outbox = tx.objectStore('outbox')
      const name = nameIn(await outbox.get(seq))
      await outbox.delete(seq)
      const left = name === null ? [] : await outbox.getAll()
      if (name !== null && !left.some((one) => nameIn(one) === name))
        await tx.objectStore('pictures').delete(name)
      await tx.done
    },
    picture: async (name) => (await db.get('pictures', name)) ?? null,
  }
}

const nameIn = (kept: Pick<QueuedCommand, 'command'> | undefined): string | null =>
  kept === undefined ? null : pictureOf(kept.command)

async function deviceOf(db: IDBPDatabase<Schema>): Promise<string> {
  const tx = db.transaction('own', 'readwrite', STRICT)
  const kept = await tx.store.get(DEVICE)
  const device = kept ?? deviceId()
  if (kept === undefined) await tx.store.put(device, DEVICE)
  await tx.done
  return device
}

/** For a browser that stores nothing: kept as long as the page is open. */
export function memoryOutboxDb(): OutboxDb {
  const kept = new Map<number, QueuedCommand>()
  const pictures = new Map<string, Picture>()
  let seq = 0
  return {
    device: deviceId(),
    lasts: false,
    async add(one, picture) {
      seq += 1
      const counted = { ...one, seq }
      kept.set(seq, counted)
      const name = pictureOf(one.command)
      if (picture && name !== null) pictures.set(name, picture)
      return counted
    },
    all: async () => [...kept.values()],
    async put(one) {
      if (kept.has(one.seq)) kept.set(one.seq, one)
    },
    async remove(which) {
      const name = nameIn(kept.get(which))
      kept.delete(which)
      if (name !== null && ![...kept.values()].some((one) => nameIn(one) === name))
        pictures.delete(name)
    },
    picture: async (name) => pictures.get(name) ?? null,
  }
}

export type OtherPages = {
  /** Runs work while no other page of this device does the same. */
  readonly alone: (work: () => Promise<void>) => Promise<void>
  /** Tells the other pages that the list has changed, and hears of it from them. */
  readonly others: { readonly tell: () => void; readonly hear: (changed: () => void) => void }
}

const PAGES = 'flashbell.outbox'

/**
 * The other pages of this device. Where the browser has locks, one of them sends at a time; without
 * (plain http) two may send the same command, which the server answers as it did first.
 */
export function pagesOf(page: Window): OtherPages {
  const { locks } = page.navigator as { locks?: LockManager }
  const channel = new BroadcastChannel(PAGES)
  return {
    alone: (work) => (locks ? locks.request(PAGES, work) : work()),
    others: {
      tell: () => channel.postMessage(null),
      hear: (changed) => channel.addEventListener('message', changed),
    },
  }
}
