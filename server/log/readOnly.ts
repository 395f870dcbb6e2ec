import { constants, Database } from 'bun:sqlite'
import { copyFileSync, existsSync, mkdtempSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { pathToFileURL } from 'node:url'
import { THING_KEYS } from '../../machines/envelope.ts'
import { emptyHead } from './chain.ts'
import { asLogError } from './faults.ts'
import { checkReadable } from './file.ts'
import {
  type Columns,
  type Head,
  type Page,
  type Row,
  type Snapshot,
  type Store,
  sorted,
} from './log.ts'

/** A log that is only read: neither its file nor its folder is changed. */
export type LogReader = Pick<
  Store,
  'head' | 'raw' | 'shops' | 'getMeta' | 'getSnapshot' | 'close'
> & {
  readonly db: Database
  /** Whether a server may write to the file meanwhile; what is read is still of one moment a call. */
  readonly isLive: boolean
}

const SIDES = ['', '-wal'] as const

/**
 * Opens a log to read it, also on a medium that cannot be written to.
 * @param isLive whether a server has the file open: then its write-ahead log is read with it. Else
 *   the file is opened as one that nobody changes, for which SQLite makes no file beside it; entries
 *   that a killed server left in the write-ahead log are read in a copy.
 * @throws LogError op `open`
 */
export function openToRead(path: string, isLive: boolean): LogReader {
  let db: Database | undefined
  let copy: string | null = null
  try {
    const isLeft = !isLive && (statSync(`${path}-wal`, { throwIfNoEntry: false })?.size ?? 0) > 0
    if (isLeft && (statSync(path, { throwIfNoEntry: false })?.size ?? 0) > 0) copy = copied(path)
    db =
      isLive || copy !== null
        ? new Database(copy ?? path, { readonly: true })
        : new Database(unchanging(path), constants.SQLITE_OPEN_READONLY | constants.SQLITE_OPEN_URI)
    db.run('PRAGMA busy_timeout = 5000')
    checkReadable(db, path)
    return readerOn(db, isLive, () => remove(copy))
  } catch (cause) {
    db?.close()
    remove(copy)
    throw asLogError('open', null, cause, path)
  }
}

/** SQLite's address of a file that nobody changes (sqlite.org/uri.html). */
const unchanging = (path: string): string => `${pathToFileURL(resolve(path)).href}?immutable=1`

function copied(path: string): string {
  const folder = mkdtempSync(join(tmpdir(), 'flashbell-read-'))
  const copy = join(folder, 'shop.sqlite')
  try {
    // Shares the blocks on file systems that can.
    for (const side of SIDES) copyFileSync(`${path}${side}`, `${copy}${side}`, COPYFILE_FICLONE)
    return copy
  } catch (error) {
    remove(copy)
    throw error
  }
}

const COPYFILE_FICLONE = 2

function remove(copy: string | null): void {
  if (copy !== null && existsSync(copy)) rmSync(resolve(copy, '..'), { recursive: true })
}

const COLUMNS = `id, command, type, at, recorded_at AS recordedAt, ${THING_KEYS.join(', ')}`

/** By position, not by name: such a connection is not strict. */
function readerOn(db: Database, isLive: boolean, closed: () => void): LogReader {
  const head = db.prepare<Head, [string]>(
    `SELECT position, hash, recorded_at AS recordedAt FROM entry
     WHERE shop = ? ORDER BY position DESC LIMIT 1`,
  )
  const raw = db.prepare<Omit<Row, 'columns'> & Columns, [string, number, number]>(
    `SELECT position, text, hash, ${COLUMNS} FROM entry
     WHERE shop = ? AND position > ? ORDER BY position LIMIT ?`,
  )
  const shops = db.prepare<{ shop: string }, []>('SELECT DISTINCT shop FROM entry')
  const snapshot = db.prepare<Snapshot, [string, string]>(
    'SELECT position, json FROM snapshot WHERE shop = ? AND fold_version = ?',
  )
  const meta = db.prepare<{ value: string }, [string]>('SELECT value FROM meta WHERE key = ?')
  async function attempt<T>(op: 'read' | 'meta', shop: string | null, work: () => T): Promise<T> {
    try {
      return work()
    } catch (cause) {
      throw asLogError(op, shop, cause)
    }
  }
  return {
    db,
    isLive,
    head: (shop) => attempt('read', shop, () => head.get(shop) ?? emptyHead(shop)),
    raw: (shop, { after, limit }: Page) =>
      attempt('read', shop, () =>
        raw
          .all(shop, after, limit)
          .map(({ position, text, hash, ...columns }) => ({ position, text, hash, columns })),
      ),
    shops: () => attempt('read', null, () => sorted(shops.all().map(({ shop }) => shop))),
    getSnapshot: (shop, foldVersion) =>
      attempt('read', shop, () => snapshot.get(shop, foldVersion)),
    getMeta: (key) => attempt('meta', null, () => meta.get(key)?.value ?? null),
    async close() {
      db.close(true)
      closed()
    },
  }
}
