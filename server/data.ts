import { Database } from 'bun:sqlite'
import { existsSync, mkdirSync, readdirSync, statSync } from 'node:fs'
import { basename, join, resolve } from 'node:path'
import type { StartTrouble } from '../machines/contract/damage.ts'
import { isBackupName } from './backup/name.ts'
import { inEnglish } from './say.ts'

/** Where a server keeps what it must not lose. */
export const logFileIn = (folder: string): string => join(folder, 'shop.sqlite')
/** Its pictures, beside the log: the log holds their names. */
export const photosFolderIn = (folder: string): string => join(folder, 'photos')
/** The pictures of all backups of one folder lie together beside them, each once. */
export const photosFolderOf = (folder: string): string =>
  isBackupName(basename(resolve(folder)))
    ? join(resolve(folder, '..'), 'photos')
    : photosFolderIn(folder)
/** What can be made again at any time: it may be deleted. */
export const cacheFolderIn = (folder: string): string => join(folder, 'cache')
/** How far the log reached, beside it: DEVELOPERS.md says what it is for. */
export const markFileIn = (folder: string): string => join(folder, 'shop.mark')
const lockFileIn = (folder: string): string => join(folder, 'lock.sqlite')

/**
 * Whether the last server on a folder was killed, or its computer: SQLite removes the write-ahead log
 * when the file is closed in order. To be asked before the log is opened.
 */
export const wasKilled = (folder: string): boolean => sizeOf(`${logFileIn(folder)}-wal`) > 0

export const hasLog = (folder: string): boolean => existsSync(logFileIn(folder))

/** An error that the person who started the command can fix; the message says how. */
export class Usable extends Error {}

/** A shop that cannot be served, by code: the command line says it in English, a kiosk in its own words. */
export class StartError extends Usable {
  readonly trouble: StartTrouble

  constructor(trouble: StartTrouble, cause?: unknown) {
    super(inEnglish(0).start(trouble), { cause })
    this.trouble = trouble
  }
}

const sizeOf = (path: string): number => statSync(path, { throwIfNoEntry: false })?.size ?? 0

/** What a shop has left in a folder beside its log; null where there is nothing. */
function leftIn(folder: string) {
  const mark = markFileIn(folder)
  const photos = photosFolderIn(folder)
  if (sizeOf(mark) > 0) return { left: 'mark', at: mark } as const
  const hasPhotos = existsSync(photos) && readdirSync(photos).length > 0
  return hasPhotos ? ({ left: 'photos', at: photos } as const) : null
}

/**
 * Where a shop was and its log is gone, no new one is begun in its place.
 * @param isEmpty whether the log was opened and has no shop in it; without it, the file is looked at
 * @throws StartError
 */
export function refuseLostShop(folder: string, isEmpty = sizeOf(logFileIn(folder)) === 0): void {
  const left = isEmpty ? leftIn(folder) : null
  if (left === null) return
  throw new StartError({ code: 'shopLost', params: { folder, log: logFileIn(folder), ...left } })
}

export type Lock = { readonly release: () => void }

/**
 * Makes the folder and takes it for this process. The lock is SQLite's on an empty database of its
 * own: the system releases it whatever ends the process, so a kill leaves none behind.
 * @throws StartError where another server holds it, or the folder cannot be made
 */
export function lockFolder(folder: string): Lock {
  try {
    mkdirSync(folder, { recursive: true })
    return lock(lockFileIn(folder))
  } catch (cause) {
    throw new StartError(lockTrouble(folder, cause), cause)
  }
}

/**
 * Takes the making of backups of a folder for this process.
 * @returns null for a folder that cannot be written to, which has no server either
 */
export function lockBackups(folder: string): Lock | null | 'taken' {
  try {
    return lock(join(folder, 'backup.sqlite'))
  } catch (cause) {
    return isBusy(cause) ? 'taken' : null
  }
}

function lock(file: string): Lock {
  const db = new Database(file, { create: true, strict: true })
  try {
    db.run('PRAGMA busy_timeout = 0')
    db.run('BEGIN EXCLUSIVE')
  } catch (cause) {
    db.close()
    throw cause
  }
  return { release: () => db.close() }
}

const isBusy = (cause: unknown): boolean =>
  cause instanceof Error && 'code' in cause && String(cause.code).startsWith('SQLITE_BUSY')

/** Whether a server has a folder's log open. Nothing is changed by looking. */
export function isServed(folder: string): boolean {
  if (!existsSync(lockFileIn(folder))) return false
  let db: Database | undefined
  try {
    db = new Database(lockFileIn(folder), { readonly: true })
    db.query('SELECT count(*) FROM sqlite_master').get()
    return false
  } catch (cause) {
    return isBusy(cause)
  } finally {
    db?.close()
  }
}

function lockTrouble(folder: string, cause: unknown): StartTrouble {
  if (isBusy(cause)) return { code: 'folderInUse', params: { folder } }
  const errno = cause instanceof Error && 'code' in cause ? String(cause.code) : ''
  return { code: 'folderReadOnly', params: { folder, errno } }
}
