import { closeSync, fsyncSync, openSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { markFileIn } from '../data.ts'
import { type Mark, readMark } from '../log/mark.ts'
import { type BackupName, isPartialOf, partialName, readBackupName } from './name.ts'

/** A backup in a folder of backups. */
export type Backup = BackupName & { readonly path: string }

/** The backups in a folder, of every shop, newest first. */
export function backupsIn(folder: string): readonly Backup[] {
  return readdirSync(folder)
    .flatMap((name) => {
      const said = readBackupName(name)
      return said ? [{ ...said, path: join(folder, name) }] : []
    })
    .sort((a, b) => b.atMs - a.atMs || b.count - a.count)
}

/** How far a backup reaches, by the mark in it; null where that cannot be read. */
export const reachOf = ({ path }: Pick<Backup, 'path'>): Mark | null =>
  readMark(markFileIn(path))?.mark ?? null

/** What earlier backups of a shop left behind when they were ended in the middle. */
export function removePartials(folder: string, shop: string): void {
  for (const name of readdirSync(folder))
    if (isPartialOf(shop, name)) rmSync(join(folder, name), { recursive: true, force: true })
}

/** First under a name that no backup has: one that is half removed must not look whole. */
export function removeBackup({ path }: Backup): void {
  const partial = join(dirname(path), partialName(basename(path)))
  renameSync(path, partial)
  rmSync(partial, { recursive: true, force: true })
}

/** Writes through what the system still holds of a file or a folder's names. */
export function flush(path: string): void {
  const isFolder = statSync(path).isDirectory()
  const file = openSync(path, isFolder ? 'r' : 'r+')
  try {
    fsyncSync(file)
  } catch (error) {
    // Some network drives cannot flush a folder; its names are written there at once.
    if (!isFolder) throw error
  } finally {
    closeSync(file)
  }
}
