import { accessSync, constants, existsSync, statSync } from 'node:fs'
import type {
  BackupHealth,
  BackupKeep,
  BackupLate,
  BackupOutcome,
  BackupProgress,
  BackupSchedule,
  BackupsAnswer,
  BackupTrouble,
} from '../../machines/contract/backup.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import type { Clock } from '../clock.ts'
import type { Writer } from '../handle.ts'
import { keptText, readKeptOrBare } from '../log/keptJson.ts'
import type { SideStore } from '../log/log.ts'
import {
  dueSince,
  healthOf,
  type Kept,
  type KeptOfBefore,
  lateOf,
  NONE,
  nextMs,
  todaysKept,
} from './due.ts'
import { makeFolder } from './make.ts'
import { troubleOf } from './trouble.ts'

/** A backup that runs: beside the server, so that nobody waits for it. */
export type RunningBackup = {
  readonly outcome: Promise<BackupOutcome>
  readonly kill: () => void
}
export type RunBackup = (
  ask: { readonly data: string; readonly folder: string; readonly keep: BackupKeep },
  progress: (progress: BackupProgress) => void,
) => RunningBackup

/** The backups of a server's own shop: made at the hour that is set, or when somebody asks. */
export type Backups = {
  readonly answer: () => BackupsAnswer
  /** What every kiosk says; null where nothing is wrong. */
  readonly late: () => BackupLate | null
  readonly health: () => BackupHealth
  /** @returns why it cannot be so; null where it is kept. `null` sets no backups any more */
  readonly set: (schedule: BackupSchedule | null) => Promise<BackupTrouble | null>
  /** Begins one; where one is running, that one is meant. @returns false without a folder */
  readonly begin: () => boolean
  readonly stop: () => Promise<void>
}

type BackupsDeps = {
  readonly data: string
  readonly store: Pick<SideStore, 'getMeta' | 'putMeta'>
  readonly clock: Clock
  readonly writer: Pick<Writer, 'state' | 'follow'>
  readonly run: RunBackup
  readonly report: (error: unknown) => void
}

/** Beside the log: no entry, so that a schedule is not part of the record of the shop. */
const KEY = 'backup'
const LOOK_MS = 30_000
/** Nobody has pressed anything for so long. */
const IDLE_MS = 60_000
/** In a shop that never rests it is begun all the same. */
const WAIT_MOST_MS = 2 * 3_600_000

/** @throws LogError where the store cannot be read */
export async function openBackups(deps: BackupsDeps): Promise<Backups> {
  const { data, store, clock, writer, run, report } = deps
  let kept = keptIn(await store.getMeta(KEY), clock.now())
  let running: { backup: RunningBackup; progress: BackupProgress } | null = null
  let pressedMs = 0
  const zone = () => settingsOf(writer.state()).timeZone

  async function keep(change: Partial<Kept>): Promise<void> {
    kept = { ...kept, ...change }
    await store.putMeta(KEY, keptText(kept))
  }

  function begin(): boolean {
    const { schedule } = kept
    if (running !== null) return true
    if (schedule === null) return false
    const { folder, keep: keeping } = schedule
    const backup = run({ data, folder, keep: keeping }, (progress) => {
      if (running?.backup === backup) running.progress = progress
    })
    running = { backup, progress: { step: 'copy', done: 0, of: 0 } }
    void ended(backup).catch(report)
    return true
  }

  async function ended(backup: RunningBackup): Promise<void> {
    const outcome = await backup.outcome
    running = null
    const atMs = clock.now()
    if (!outcome.ok) return await keep({ lastFailed: { atMs, trouble: outcome.trouble } })
    const { path, head, photos } = outcome
    const lastDone = { atMs, path, head, missing: photos.missing.length }
    await keep({ lastDone, lastFailed: null })
  }

  function look(): void {
    const now = clock.now()
    if (running !== null || clock.standing().doubt !== null) return
    const dueMs = dueSince(kept, now, zone())
    if (dueMs === null) return
    if (now - pressedMs >= IDLE_MS || now - dueMs >= WAIT_MOST_MS) begin()
  }

  const unfollow = writer.follow(() => {
    pressedMs = clock.now()
  })
  const stopLooking = clock.every(LOOK_MS, look)
  return {
    answer() {
      const { schedule, lastDone, lastFailed } = kept
      return {
        schedule,
        lastDone,
        lastFailed,
        nextMs: nextMs(kept, clock.now(), zone()),
        running: running?.progress ?? null,
        isSameDisk: schedule !== null && isSameDisk(schedule.folder, data),
      }
    },
    late: () => lateOf(kept, clock.now()),
    health: () => healthOf(kept, clock.now()),
    async set(schedule) {
      const trouble = schedule && folderTrouble(schedule.folder, data)
      if (trouble) return trouble
      const isFirst = kept.schedule === null
      const isLost = kept.lastFailed?.trouble.code === 'scheduleLost'
      await keep({
        ...(isLost ? { lastFailed: null } : {}),
        schedule,
        sinceMs: schedule === null ? 0 : isFirst ? clock.now() : kept.sinceMs,
      })
      return null
    },
    begin,
    async stop() {
      unfollow()
      stopLooking()
      const now = running?.backup
      now?.kill()
      await now?.outcome
    },
  }
}

/** What was kept; where a disk changed it, that is what went wrong last: somebody has to set it again. */
function keptIn(text: string | null, nowMs: number): Kept {
  if (text === null) return NONE
  const kept = readKeptOrBare<KeptOfBefore>(text)
  if (kept !== null) return todaysKept(kept.value)
  return { ...NONE, lastFailed: { atMs: nowMs, trouble: { code: 'scheduleLost', params: {} } } }
}

function folderTrouble(folder: string, data: string): BackupTrouble | null {
  try {
    makeFolder({ folder, data })
    accessSync(folder, constants.W_OK)
    return null
  } catch (error) {
    return troubleOf(error, folder)
  }
}

const isSameDisk = (folder: string, data: string): boolean =>
  existsSync(folder) && statSync(folder).dev === statSync(data).dev
