/**
 * The folder of one backup says of which shop it is and when it was made, UTC:
 * `flashbell-VANSHAP2-2026-11-28T14-05-09Z`, and `-2` and so on for more in one second.
 */
export type BackupName = { readonly shop: string; readonly atMs: number; readonly count: number }

const NAME = /^flashbell-([A-Za-z0-9]{1,40})-(\d{4}-\d\d-\d\dT\d\d)-(\d\d)-(\d\d)Z(?:-([1-9]\d?))?$/
/** A backup that is being made, or that nobody finished: it never looks like a whole one. */
const PARTIAL = '.part'

export function backupName({ shop, atMs, count }: BackupName): string {
  const at = new Date(atMs).toISOString().slice(0, 19).replaceAll(':', '-')
  return `flashbell-${shop}-${at}Z${count === 1 ? '' : `-${count}`}`
}

/** What a name says; null for what is no backup's. */
export function readBackupName(name: string): BackupName | null {
  const [, shop, hour, minute, second, count = '1'] = NAME.exec(name) ?? []
  const atMs = Date.parse(`${hour}:${minute}:${second}Z`)
  return shop === undefined || Number.isNaN(atMs) ? null : { shop, atMs, count: Number(count) }
}

export const isBackupName = (name: string): boolean => readBackupName(name) !== null

export const partialName = (name: string): string => `${name}${PARTIAL}`
export const isPartialName = (name: string): boolean =>
  name.replace(/[\\/]+$/, '').endsWith(PARTIAL)
/** Whether a name is of a backup of this shop that is not whole. */
export const isPartialOf = (shop: string, name: string): boolean =>
  name.endsWith(PARTIAL) && readBackupName(name.slice(0, -PARTIAL.length))?.shop === shop
