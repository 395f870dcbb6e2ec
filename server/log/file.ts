import { Database, SQLiteError } from 'bun:sqlite'
import { closeSync, openSync, readSync, statSync } from 'node:fs'
import type { StoreFault } from '../../machines/contract/damage.ts'
import { asLogError } from './faults.ts'
import { LogError, RESTORE } from './log.ts'
import { type CaughtUp, catchUp } from './named.ts'
import { APPLICATION_ID, GUARDS, INDEXES, SCHEMA, SCHEMA_VERSION, TABLES } from './schema.ts'

/** As long as the busy timeout of what does wait. */
const SWITCH_TRIES = 250
const SWITCH_AGAIN_MS = 20

/**
 * Opens a log file, or makes it where there is none. A file that is damaged, of another program or
 * of a newer version is refused with its content left as it is: nothing but a file without any
 * content counts as new.
 * @param path the file; SQLite keeps two more beside it while it is open, so its folder must be
 *   writable
 * @param tell hears how far it is where a long log of an older program is made ready
 * @throws LogError op `open`
 */
export function openLogFile(path: string, tell?: (so: CaughtUp) => void): Database {
  let db: Database | undefined
  try {
    refuseOrphanedWal(path)
    db = new Database(path, { create: true, strict: true })
    makeReady(db, path, tell)
    return db
  } catch (cause) {
    db?.close()
    throw asLogError('open', null, cause, path)
  }
}

/**
 * Looks at a file that is only to be read.
 * @throws LogError op `open` for what is damaged, empty, of another program or of a newer version
 */
export function checkReadable(db: Database, path: string): void {
  refuseOrphanedWal(path)
  checkPages(db, path)
  if (isNew(db, path)) throw refused(path, 'damaged', 'the file is empty.', RESTORE)
}

function makeReady(db: Database, path: string, tell?: (so: CaughtUp) => void): void {
  db.run('PRAGMA busy_timeout = 5000')
  if (sizeOf(path) <= SMALL_BYTES) checkPages(db, path)
  else checkLength(path)
  // Before anything is written, so that a file of another program stays as it is.
  const isEmpty = db.transaction(isNew)(db, path)
  setUp(db, path)
  // And again under the write lock: another process may have made the tables in between.
  db.transaction(() => {
    if (isEmpty && isNew(db, path)) db.run(SCHEMA)
    db.run(INDEXES)
    db.run(GUARDS)
    if (numberOf(db, 'user_version') < SCHEMA_VERSION)
      db.run(`PRAGMA user_version = ${SCHEMA_VERSION}`)
  }).immediate()
  catchUp(db, tell)
}

/**
 * SQLite deletes the write-ahead log of a database whose own file is empty or gone, and with it the
 * last entries. A log of ours never looks so: its first page is written before its write-ahead log
 * exists.
 */
function refuseOrphanedWal(path: string): void {
  if (sizeOf(path) === 0 && sizeOf(`${path}-wal`) > 0)
    throw refused(path, 'damaged', 'the file is empty, but entries lie beside it.', RESTORE)
}

const sizeOf = (path: string): number => statSync(path, { throwIfNoEntry: false })?.size ?? 0

/**
 * A file of some thousand entries is checked at once. One of years would keep its shop waiting: it is
 * checked while the server runs (wholeCheck.ts).
 */
const SMALL_BYTES = 4_000_000

/** Where the header of a file says how many pages it has, and how large they are (sqlite.org/fileformat.html). */
const PAGE_SIZE_AT = 16
const PAGES_AT = 28

/** A file that was cut short shows it by its length; while a write-ahead log lies beside it, it may. */
function checkLength(path: string): void {
  if (sizeOf(`${path}-wal`) > 0) return
  const header = Buffer.alloc(100)
  const file = openSync(path, 'r')
  try {
    readSync(file, header, 0, header.length, 0)
  } finally {
    closeSync(file)
  }
  const pageSize = header.readUInt16BE(PAGE_SIZE_AT)
  // 65,536 does not fit and is written as 1.
  const wanted = header.readUInt32BE(PAGES_AT) * (pageSize === 1 ? 65_536 : pageSize)
  if (sizeOf(path) < wanted) throw refused(path, 'damaged', 'the file was cut short.', RESTORE)
}

/** Reads every page: an overwritten one must be known now, not when an entry in it is asked for. */
function checkPages(db: Database, path: string): void {
  const found = db.query<{ quick_check: string }, []>('PRAGMA quick_check(1)').all()
  const first = found[0]?.quick_check
  if (first === 'ok') return
  throw refused(path, 'damaged', `the file is damaged (${first}).`, RESTORE)
}

/**
 * True for a file without content, false for a log of this version; anything else is refused.
 * Called in a transaction, so that its three looks see one state.
 */
function isNew(db: Database, path: string): boolean {
  const tables = db
    .query<{ name: string }, []>("SELECT name FROM sqlite_master WHERE type = 'table'")
    .all()
    .map((table) => table.name)
  const id = numberOf(db, 'application_id')
  const version = numberOf(db, 'user_version')
  if (tables.length === 0 && id === 0 && version === 0) return true
  if (id !== APPLICATION_ID)
    throw refused(path, 'foreign', 'the file is not a log of this program.', 'Choose another file.')
  if (version > SCHEMA_VERSION)
    throw refused(
      path,
      'newer',
      `the file is of version ${version}, this program knows up to ${SCHEMA_VERSION}.`,
      'Install the program that wrote it, or a newer one.',
    )
  const missing = TABLES.find((table) => !tables.includes(table))
  if (missing) throw refused(path, 'damaged', `the file has no table ${missing}.`, RESTORE)
  return false
}

function numberOf(db: Database, pragma: 'application_id' | 'user_version'): number {
  const row = db.query<Record<string, number>, []>(`PRAGMA ${pragma}`).get()
  return row?.[pragma] ?? 0
}

/** What each connection needs. WAL stays with the file; switching it on writes the first page. */
function setUp(db: Database, path: string): void {
  if (switchToWal(db) !== 'wal')
    throw refused(
      path,
      'unreachable',
      'the folder cannot hold a write-ahead log.',
      'Choose a folder on a disk of this computer, not on a network drive.',
    )
  // FULL: acknowledged means that it survives a power cut, as far as the disk keeps its word.
  db.run('PRAGMA synchronous = FULL')
  db.run('PRAGMA foreign_keys = ON')
  // A page that is split leaves no copy of a text behind, which verify would not look at.
  db.run('PRAGMA secure_delete = FAST')
  // Without it INSERT OR REPLACE deletes rows without asking the delete trigger.
  db.run('PRAGMA recursive_triggers = ON')
}

/**
 * Two servers that open a new file at one moment both want it alone to switch. SQLite then refuses
 * one of them at once, whatever its busy timeout: each would wait for the other.
 */
function switchToWal(db: Database): string | undefined {
  for (let tries = 1; ; tries += 1) {
    try {
      return db.query<{ journal_mode: string }, []>('PRAGMA journal_mode = WAL').get()?.journal_mode
    } catch (cause) {
      if (!isBusy(cause) || tries === SWITCH_TRIES) throw cause
      Bun.sleepSync(SWITCH_AGAIN_MS)
    }
  }
}

const isBusy = (cause: unknown): boolean =>
  cause instanceof SQLiteError && cause.code?.startsWith('SQLITE_BUSY') === true

function refused(path: string, code: StoreFault, what: string, hint: string): LogError {
  return new LogError({ op: 'open', shop: null }, code, `${path}: ${what}`, hint)
}
