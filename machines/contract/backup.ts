import * as v from 'valibot'
import { fields, whole } from '../accept.ts'
import type { Damage, StoreFault } from './damage.ts'
import { rule } from './wrongField.ts'

/** Backups as they cross HTTP and the command line. */

/**
 * How long backups are kept: all of the newest `days` that have one, then the last of each week for
 * `weeks` and the last of each month for `months`.
 */
export type BackupKeep = { readonly days: number; readonly weeks: number; readonly months: number }

export const KEEP: BackupKeep = { days: 7, weeks: 5, months: 12 }

export const keepSchema = fields({
  days: whole(1, 366),
  weeks: whole(0, 520),
  months: whole(0, 240),
})

const pathRule = rule('path', {})

/** When and where backups are made by themselves; `hour` is the shop's, 0 to 23. */
export const scheduleSchema = fields({
  folder: v.pipe(
    v.string(pathRule),
    v.maxLength(400, pathRule),
    // With a root, on whatever system the server runs; no line breaks and other controls.
    v.regex(/^(?:\/|[A-Za-z]:[\\/]|\\\\)[^\p{Cc}]*$/u, pathRule),
  ),
  hour: whole(0, 23),
  keep: keepSchema,
})
export type BackupSchedule = v.InferOutput<typeof scheduleSchema>

/**
 * Why a backup was not made. What was there before is left as it is. `damaged`: the log itself, or
 * what was written of it, is not as it was recorded; `stopped`: it ended in the middle; `scheduleLost`:
 * the disk did not keep when and where backups are made.
 */
export type BackupTroubleParams = {
  folderMissing: { readonly folder: string }
  insideData: { readonly folder: string }
  readOnly: { readonly folder: string }
  full: { readonly folder: string }
  damaged: { readonly position: number; readonly damage: Damage }
  /** The log has no entry yet. */
  empty: object
  /** The log itself could not be read. */
  log: { readonly fault: StoreFault }
  busy: object
  stopped: object
  scheduleLost: object
  /** `reason`: what the system says of it. */
  failed: { readonly reason: string }
}
export type BackupTrouble = {
  [C in keyof BackupTroubleParams]: { readonly code: C; readonly params: BackupTroubleParams[C] }
}[keyof BackupTroubleParams]

/** What a backup is doing: entries and pictures are counted, a copy is not. */
export type BackupProgress = {
  readonly step: 'copy' | 'check' | 'photos'
  readonly done: number
  readonly of: number
}

/** A backup that was made and found to be whole. */
export type BackupDone = {
  readonly path: string
  readonly shop: string
  /** How many entries it has, and the hash of the last. */
  readonly head: number
  readonly hash: string
  readonly photos: {
    readonly copied: number
    /** Named by the log, and neither here nor in the backups. */
    readonly missing: readonly string[]
  }
  /** Older backups that were removed, by name. */
  readonly removed: readonly string[]
  /** Those that would have been, and have entries that the new one has not. */
  readonly spared: readonly string[]
}

export type BackupOutcome =
  | ({ readonly ok: true } & BackupDone)
  | { readonly ok: false; readonly trouble: BackupTrouble }

/** The last success and failure, UTC ms. */
export type BackupPast = {
  readonly lastDone:
    | (Pick<BackupDone, 'path' | 'head'> & { readonly atMs: number; readonly missing: number })
    | null
  readonly lastFailed: { readonly atMs: number; readonly trouble: BackupTrouble } | null
}

/** GET /api/backup. */
export type BackupsAnswer = BackupPast & {
  readonly schedule: BackupSchedule | null
  /** When the next is due by the schedule, UTC ms. */
  readonly nextMs: number | null
  readonly running: BackupProgress | null
  /** Whether the folder lies on the disk of the log itself, which may fail as a whole. */
  readonly isSameDisk: boolean
}

/**
 * How the backups stand, for whoever runs the server. `failed`: the last one did, and none was made
 * since; `late`: none for two days, though a schedule is set.
 */
export type BackupHealth =
  | { readonly code: 'ok' }
  | { readonly code: 'notSet' }
  | { readonly code: 'late'; readonly params: BackupLate }
  | { readonly code: 'failed'; readonly params: { readonly trouble: BackupTrouble } }

/** A schedule is set, and the last success is too long ago; null: there was none at all. */
export type BackupLate = { readonly lastMs: number | null }
