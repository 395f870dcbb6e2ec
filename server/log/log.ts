import type { StoreFault } from '../../machines/contract/damage.ts'
import { compareText, type Entry, type ThingKey } from '../../machines/envelope.ts'

/** An entry that has its place but not yet its hash. */
export type Unsealed = Omit<Entry, 'hash'>

/** Where a shop's log ends. An empty shop: position 0, hash SHA-256(shop id), recordedAt 0. */
export type Head = {
  readonly position: number
  readonly hash: string
  /** UTC ms of the last entry. */
  readonly recordedAt: number
}

/**
 * The columns beside the text of an entry, for finding it; every value is also in the text.
 */
export type Columns = {
  readonly id: string
  readonly command: string
  readonly type: string
  /** UTC ms. */
  readonly at: number
  /** UTC ms. */
  readonly recordedAt: number
} & { readonly [K in ThingKey]: string | null }

/** An entry as it lies in the store: the RFC 8785 text without `hash`, the hash, the columns. */
export type Row = {
  readonly position: number
  readonly text: string
  readonly hash: string
  readonly columns: Columns
}

/** The next `limit` (1 or more) after position `after` (0 is the start). */
export type Page = { readonly after: number; readonly limit: number }

/** Only what happened from `fromAt` to `toAt`, both included, UTC ms. */
export type Between = { readonly fromAt: number; readonly toAt: number }

/** What came of an append. */
export type Appended = 'done' | 'moved' | 'known'

/**
 * The log: one sequence of entries a shop, that only ever grows at its end.
 *
 * Every store keeps to this, and tests/contract/event-log.ts asks each of them:
 * - shops never see each other; every key leads with the shop.
 * - entries come back as they were given, in order of position; a shop or id nobody knows gives
 *   nothing, never an error.
 * - a promise that rejects does so with a LogError.
 */
export interface EventLog {
  head(shop: string): Promise<Head>
  /**
   * Adds entries at the end: all of them or none. `done` means that they are durable: no crash and
   * no kill loses them. `moved` means that the stored head is not at `expectedHead`; nothing was
   * written, the caller reads what is new and decides again. Of two calls with the same
   * `expectedHead` at most one is `done`.
   * `known` means that one of `commands` has entries in the log already; nothing was written.
   * @param entries sealed one upon the other, positions expectedHead + 1, + 2 ...
   * @param commands the ids of those that may cause entries once only; without it nobody asks
   * @throws LogError `program` for entries that do not follow each other or the stored head, or
   *   whose id is taken; other codes where the commit failed. Nothing was written then, as far as
   *   this process can read: only a disk that fails in the middle of a commit may show, after a
   *   restart, entries that were never acknowledged. It shows all of the group or none.
   */
  append(
    shop: string,
    expectedHead: number,
    entries: readonly Entry[],
    commands?: readonly string[],
  ): Promise<Appended>
  read(shop: string, page: Page): Promise<readonly Entry[]>
  /** The same, not parsed: for verify and for a backup. */
  raw(shop: string, page: Page): Promise<readonly Row[]>
  /** What one command caused. */
  byCommand(shop: string, command: string): Promise<readonly Entry[]>
  /** What names one thing; for a zone, whose readings have no end, `between` two instants. */
  byThing(shop: string, key: ThingKey, id: string, between?: Between): Promise<readonly Entry[]>
  /** What is of one type, between two instants: for figures over days. */
  byType(shop: string, type: string, between: Between): Promise<readonly Entry[]>
  byId(shop: string, entryId: string): Promise<Entry | null>
  /** The voids of any of some entries. */
  voidsOf(shop: string, entryIds: readonly string[]): Promise<readonly Entry[]>
  /**
   * The last in time, of those recorded at one time the last, of a thing's entries of one type that
   * happened until an instant and were not voided; null without one.
   */
  lastBefore(
    shop: string,
    key: ThingKey,
    id: string,
    type: string,
    toAt: number,
  ): Promise<Entry | null>
  /** Every shop with an entry, sorted. */
  shops(): Promise<string[]>
  /** Releases the store. Every later call rejects with `closed`; a second close does nothing. */
  close(): Promise<void>
}

/** A folded state as text, and the position up to which it is folded. */
export type Snapshot = { readonly position: number; readonly json: string }

/** Beside the log, in the same store, so that one backup holds both. */
export interface SideStore {
  /**
   * The last snapshot that this fold version put, or null. It is a cache: it may be missing, and
   * one beyond the head (a log that was cut) is to be ignored.
   */
  getSnapshot(shop: string, foldVersion: string): Promise<Snapshot | null>
  putSnapshot(shop: string, foldVersion: string, position: number, json: string): Promise<void>
  getMeta(key: string): Promise<string | null>
  putMeta(key: string, value: string): Promise<void>
}

export type Store = EventLog & SideStore

export type LogOp =
  | 'open'
  | 'seal'
  | 'fold'
  | 'head'
  | 'append'
  | 'read'
  | 'find'
  | 'shops'
  | 'snapshot'
  | 'meta'
  | 'close'

/**
 * A store that could not. The message is what happened and the hint; the hint says what the shop
 * can do.
 */
export class LogError extends Error {
  readonly op: LogOp
  /** Null where no shop was asked for. */
  readonly shop: string | null
  readonly code: StoreFault
  readonly hint: string

  constructor(
    at: { op: LogOp; shop: string | null },
    code: StoreFault,
    what: string,
    hint: string,
    cause?: unknown,
  ) {
    super(`${what} ${hint}`, { cause })
    this.name = 'LogError'
    this.op = at.op
    this.shop = at.shop
    this.code = code
    this.hint = hint
  }
}

/** What a shop can do about a fault of ours. */
export const REPORT = 'This is a fault of the program: report it, with the last lines it printed.'

/**
 * What a shop can do about a damaged file. A write-ahead log left beside a restored file would be
 * played into it.
 */
export const RESTORE =
  'Move the file and those beside it (-wal, -shm) aside, then restore the last backup under its name.'

export const closedError = (op: LogOp, shop: string | null) =>
  new LogError({ op, shop }, 'closed', 'The log is closed.', 'Start the server again.')

/**
 * Everything from `after` on, read in short pages, so that no cursor stays open between them.
 * @param read for example `(page) => log.read(shop, page)`
 */
export async function* inPages<T extends { readonly position: number }>(
  read: (page: Page) => Promise<readonly T[]>,
  { after = 0, limit = 500 }: Partial<Page> = {},
): AsyncGenerator<T> {
  let last = after
  for (;;) {
    const found = await read({ after: last, limit })
    yield* found
    last = found.at(-1)?.position ?? last
    if (found.length < limit) return
  }
}

/** Refuses a page that one store would read as everything and another as nothing. */
export function checkPage(shop: string, { after, limit }: Page): void {
  if (Number.isSafeInteger(after) && after >= 0 && Number.isSafeInteger(limit) && limit >= 1) return
  const what = `A page after ${after} with limit ${limit} won't work. Use whole numbers, the limit from 1.`
  throw new LogError({ op: 'read', shop }, 'program', what, REPORT)
}

/** Each once, in order. */
export const sorted = (ids: Iterable<string>): string[] => [...new Set(ids)].sort(compareText)
