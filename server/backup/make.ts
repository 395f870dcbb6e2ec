import { existsSync, mkdirSync, realpathSync, renameSync } from 'node:fs'
import { basename, dirname, isAbsolute, join, relative, resolve, sep } from 'node:path'
import type {
  BackupDone,
  BackupKeep,
  BackupOutcome,
  BackupProgress,
} from '../../machines/contract/backup.ts'
import {
  isServed,
  lockBackups,
  logFileIn,
  markFileIn,
  photosFolderIn,
  photosFolderOf,
} from '../data.ts'
import { type Mark, openMark, readMark } from '../log/mark.ts'
import { type LogReader, openToRead } from '../log/readOnly.ts'
import { verifyFolder } from '../verifyLog.ts'
import { contentOf, shopOf } from './content.ts'
import { backupsIn, flush, reachOf, removeBackup, removePartials } from './files.ts'
import { backupName, partialName } from './name.ts'
import { copyPhotos } from './photos.ts'
import { outdated } from './rotate.ts'
import { BackupError, troubleOf } from './trouble.ts'

export type BackupAsk = {
  /** The data folder of the shop; a server may run on it. */
  readonly data: string
  /** Where the backups lie, one folder each, and the pictures of all of them. */
  readonly folder: string
  readonly keep: BackupKeep
  /** UTC ms. */
  readonly now: number
  readonly progress?: (progress: BackupProgress) => void
}

/**
 * Makes a backup of a shop: log, mark and pictures, checked entry by entry after it was written, and
 * lets go of the oldest ones. It gets its name at the very end; where anything fails, nothing that was
 * there before is touched.
 */
export async function makeBackup(ask: BackupAsk): Promise<BackupOutcome> {
  try {
    makeFolder(ask)
    const lock = lockBackups(ask.data)
    if (lock === 'taken') throw new BackupError({ code: 'busy', params: {} })
    try {
      return { ok: true, ...(await madeUnder(ask)) }
    } finally {
      lock?.release()
    }
  } catch (error) {
    return { ok: false, trouble: troubleOf(error, ask.folder) }
  }
}

/**
 * Makes the folder itself and none above it: the drive that it is on may not be there.
 * @throws BackupError where it cannot be one of backups
 */
export function makeFolder({ folder, data }: Pick<BackupAsk, 'folder' | 'data'>): void {
  const above = dirname(resolve(folder))
  if (!existsSync(above)) throw new BackupError({ code: 'folderMissing', params: { folder } })
  const place = existsSync(folder)
    ? realpathSync(folder)
    : join(realpathSync(above), basename(folder))
  const way = relative(realpathSync(data), place)
  if (!way.split(sep).includes('..') && !isAbsolute(way))
    throw new BackupError({ code: 'insideData', params: { folder } })
  if (!existsSync(folder)) mkdirSync(folder)
}

async function madeUnder(ask: BackupAsk): Promise<BackupDone> {
  const { data, folder } = ask
  const log = openToRead(logFileIn(data), isServed(data))
  try {
    const shop = await shopOf(log)
    if (shop === null) throw new BackupError({ code: 'empty', params: {} })
    removePartials(folder, shop)
    const name = freeName(folder, shop, ask.now)
    const partial = join(folder, partialName(name))
    try {
      mkdirSync(partial)
      return await filled({ ...ask, log, shop, partial, path: join(folder, name) })
    } catch (error) {
      removePartials(folder, shop)
      throw error
    }
  } finally {
    await log.close()
  }
}

function freeName(folder: string, shop: string, now: number): string {
  for (let count = 1; ; count += 1) {
    const name = backupName({ shop, atMs: now, count })
    if (!existsSync(join(folder, name))) return name
  }
}

type Making = BackupAsk & {
  readonly log: LogReader
  readonly shop: string
  readonly partial: string
  readonly path: string
}

async function filled(making: Making): Promise<BackupDone> {
  const { log, shop, partial, path, folder, data, progress = () => {} } = making
  progress({ step: 'copy', done: 0, of: 0 })
  const copy = logFileIn(partial)
  // One moment of the log, whatever is committed meanwhile.
  log.db.query('VACUUM INTO ?').run(copy)
  flush(copy)
  const { head, hash, photos: named } = await contentOf(copy)
  // Of what is here: what the log itself was found to lack is no fault of its backup.
  const atMs = readMark(markFileIn(data))?.mark.atMs ?? making.now
  const mark = openMark(markFileIn(partial))
  mark.put({ mark: { shop, head, hash, atMs }, missed: null })
  mark.close()
  const checked = (done: number) => progress({ step: 'check', done, of: head })
  checked(0)
  const verdict = await verifyFolder(partial, { photos: null, progress: checked })
  if (!verdict.ok) {
    const { position, damage } = verdict
    throw new BackupError({ code: 'damaged', params: { position, damage } })
  }
  const photos = await copyPhotos(
    named,
    { from: photosFolderOf(data), to: photosFolderIn(folder), now: making.now },
    (done) => progress({ step: 'photos', done, of: named.length }),
  )
  flush(partial)
  renameSync(partial, path)
  flush(folder)
  return { path, shop, head, hash, photos, ...(await rotated(making)) }
}

/**
 * Removes what is no longer kept, but only backups whose entries are all in the new one: those of a
 * log that has lost some, or was replaced, may be all that is left of them.
 */
async function rotated({ folder, shop, keep, path }: Making) {
  const own = backupsIn(folder).filter((one) => one.shop === shop)
  const removed: string[] = []
  const spared: string[] = []
  const log = openToRead(logFileIn(path), false)
  try {
    for (const one of outdated(own, keep)) {
      if (one.path === path) continue
      const isCovered = await covers(log, reachOf(one))
      if (isCovered) removeBackup(one)
      ;(isCovered ? removed : spared).push(basename(one.path))
    }
  } finally {
    await log.close()
  }
  return { removed, spared }
}

async function covers(log: LogReader, reach: Mark | null): Promise<boolean> {
  if (reach === null || reach.head < 1) return false
  const [then] = await log.raw(reach.shop, { after: reach.head - 1, limit: 1 })
  return then?.hash === reach.hash
}
