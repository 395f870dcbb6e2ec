import { copyFileSync, existsSync, mkdirSync, renameSync, rmSync, statSync } from 'node:fs'
import { basename, join, resolve } from 'node:path'
import {
  hasLog,
  lockFolder,
  logFileIn,
  markFileIn,
  photosFolderIn,
  photosFolderOf,
  Usable,
} from '../data.ts'
import { type Mark, openMark, readMark } from '../log/mark.ts'
import { openToRead } from '../log/readOnly.ts'
import { inEnglish } from '../say.ts'
import { verifyFolder } from '../verifyLog.ts'
import { contentOf } from './content.ts'
import { backupsIn, flush } from './files.ts'
import { isPartialName } from './name.ts'
import { copyPhotos, type PhotoCopy } from './photos.ts'

export type RestoreAsk = {
  /** A backup, or the folder of backups of one shop: then its newest. */
  readonly from: string
  readonly data: string
  /** Whether a log that is there may be moved aside. */
  readonly replace: boolean
  /** UTC ms. */
  readonly now: number
}

export type Restored = {
  readonly ok: true
  /** The backup that was taken. */
  readonly from: string
  readonly data: string
  readonly shop: string
  readonly head: number
  readonly hash: string
  /** Where what was there lies now; null where nothing was. */
  readonly movedTo: string | null
  /** How many entries the shop had beyond the backup, as far as was known in the data folder. */
  readonly beyond: number
  readonly photos: PhotoCopy
}

const SIDES = ['', '-wal', '-shm', '-journal'] as const
const PARTIAL = 'restore.part'
const sizeOf = (path: string): number => statSync(path, { throwIfNoEntry: false })?.size ?? 0

/**
 * Puts a backup in the place of a shop's log. It is copied and checked entry by entry first; what is
 * there is moved aside and never deleted, and the mark is that of the backup, so that only kiosks that
 * knew more say so.
 * @throws Usable or LogError with a sentence; nothing of what was there is changed then
 */
export async function restoreBackup({ from, data, replace, now }: RestoreAsk): Promise<Restored> {
  const source = sourceIn(from)
  if (existsSync(data) && resolve(source) === resolve(data))
    throw new Usable(`${from} is the data folder itself. Choose a backup.`)
  const lock = lockFolder(data)
  const partial = join(data, PARTIAL)
  try {
    refuseToOverwrite(data, replace)
    rmSync(partial, { recursive: true, force: true })
    mkdirSync(partial)
    const content = await checkedCopy(source, partial)
    const photos = await copyPhotos(
      content.photos,
      { from: photosFolderOf(source), to: photosFolderIn(data), now },
      () => {},
    )
    const old = readMark(markFileIn(data))?.mark ?? null
    const { shop, head, hash } = content
    const atMs = Math.max(content.atMs, old?.atMs ?? 0)
    writeMark(partial, { shop, head, hash, atMs })
    const movedTo = swap(data, partial, now)
    const beyond = old?.shop === shop ? Math.max(0, old.head - head) : 0
    return { ok: true, from: source, data, shop, head, hash, movedTo, beyond, photos }
  } finally {
    rmSync(partial, { recursive: true, force: true })
    lock.release()
  }
}

function sourceIn(from: string): string {
  if (!existsSync(from)) throw new Usable(`There is no backup at ${from}.`)
  if (isPartialName(from))
    throw new Usable(`${from} is a backup that was never finished. Choose another one.`)
  if (hasLog(from)) return from
  const found = statSync(from).isDirectory() ? backupsIn(from) : []
  const newest = found[0]
  if (!newest) throw new Usable(`${from} holds no backup. Name the folder of one backup.`)
  const others = new Set(found.map(({ shop }) => shop))
  if (others.size === 1) return newest.path
  const each = [...others].map((shop) => found.find((one) => one.shop === shop)?.path)
  throw new Usable(`${from} holds backups of several shops. Name one of them: ${each.join(', ')}.`)
}

function refuseToOverwrite(data: string, replace: boolean): void {
  const log = logFileIn(data)
  if (replace || sizeOf(log) + sizeOf(`${log}-wal`) === 0) return
  const count = readMark(markFileIn(data))?.mark.head
  const has = count === undefined ? 'a log' : `a log of ${count} entries`
  throw new Usable(
    `The folder ${data} holds ${has}. Add --replace to move it aside and restore in its place; it is not deleted. Or choose an empty folder with --data.`,
  )
}

/** Copies the log of a backup, and checks every entry of the copy. */
async function checkedCopy(source: string, partial: string) {
  const log = openToRead(logFileIn(source), false)
  try {
    log.db.query('VACUUM INTO ?').run(logFileIn(partial))
  } finally {
    await log.close()
  }
  flush(logFileIn(partial))
  const mark = markFileIn(source)
  if (existsSync(mark)) copyFileSync(mark, markFileIn(partial))
  const verdict = await verifyFolder(partial, { photos: null })
  if (!verdict.ok)
    throw new Usable(
      `The backup ${source} is not as it was written, from entry ${verdict.position} on: ${inEnglish(0).damage(verdict.damage)}. Nothing was changed. Choose an older backup.`,
    )
  const atMs = readMark(mark)?.mark.atMs ?? 0
  return { ...(await contentOf(logFileIn(partial))), atMs }
}

function writeMark(partial: string, mark: Mark): void {
  rmSync(markFileIn(partial), { force: true })
  const file = openMark(markFileIn(partial))
  file.put({ mark, missed: null })
  file.close()
}

/**
 * Moves the old aside and the new in. At each moment the folder has a mark, so that no server that is
 * started after a kill takes it for that of a new shop.
 * @returns where the old lies; null where there was none
 */
function swap(data: string, partial: string, now: number): string | null {
  const log = logFileIn(data)
  const old = SIDES.map((side) => `${log}${side}`).filter((path) => existsSync(path))
  const isMarked = existsSync(markFileIn(data))
  const aside = old.length > 0 || isMarked ? freeFolder(data, now) : null
  if (aside !== null && isMarked) copyFileSync(markFileIn(data), markFileIn(aside))
  renameSync(markFileIn(partial), markFileIn(data))
  if (aside !== null) for (const path of old) renameSync(path, join(aside, basename(path)))
  renameSync(logFileIn(partial), log)
  flush(data)
  return aside
}

function freeFolder(data: string, now: number): string {
  const at = new Date(now).toISOString().slice(0, 19).replaceAll(':', '-')
  for (let count = 1; ; count += 1) {
    const folder = join(data, `before-restore-${at}Z${count === 1 ? '' : `-${count}`}`)
    if (existsSync(folder)) continue
    mkdirSync(folder)
    return folder
  }
}
