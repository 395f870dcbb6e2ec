import type {
  BackupHealth,
  BackupLate,
  BackupPast,
  BackupSchedule,
  BackupTrouble,
} from '../../machines/contract/backup.ts'
import { minuteOfDayIn } from '../../machines/shop/hours.ts'

/** When a backup is due by its schedule. Pure; times are UTC ms. */

/** What is kept of backups beside the log. */
export type Kept = BackupPast & {
  readonly schedule: BackupSchedule | null
  /** Since when there is a schedule; 0 without one. */
  readonly sinceMs: number
}

export const NONE: Kept = { schedule: null, sinceMs: 0, lastDone: null, lastFailed: null }

/** As servers of an earlier build kept it: what was found damaged as an English clause. */
type DamagedOfBefore = { readonly code: 'damaged'; readonly params: { readonly why: string } }
export type KeptOfBefore = Partial<Omit<Kept, 'lastFailed'>> & {
  readonly lastFailed?: {
    readonly atMs: number
    readonly trouble: BackupTrouble | DamagedOfBefore
  } | null
}

/** What was kept by this build or an earlier one, in today's shape. */
export function todaysKept({ lastFailed = null, ...read }: KeptOfBefore): Kept {
  const kept = { ...NONE, ...read }
  if (lastFailed === null) return { ...kept, lastFailed }
  const { atMs, trouble } = lastFailed
  return { ...kept, lastFailed: { atMs, trouble: todaysTrouble(trouble) } }
}

const todaysTrouble = (trouble: BackupTrouble | DamagedOfBefore): BackupTrouble =>
  trouble.code === 'damaged' && 'why' in trouble.params
    ? { code: 'failed', params: { reason: trouble.params.why } }
    : (trouble as BackupTrouble)

const MINUTE = 60_000
const HOUR = 60 * MINUTE
const DAY = 24 * HOUR
/** An hour that the clocks leave out comes the next day. */
const HOURS_MOST = 49
/** Later than this is said on every kiosk. */
const LATE_MS = 2 * DAY
/** A drive that was not there may have been connected since. */
const AGAIN_MS = HOUR

/** The beginnings of hours of the shop's day, from now on, or back from now. */
function hourAt(hour: number, now: number, zone: string | undefined, way: 1 | -1): number {
  const minuteOf = minuteOfDayIn(zone)
  let at = now - (minuteOf(now) % 60) * MINUTE - (now % MINUTE)
  if (way === 1) at += HOUR
  for (let step = 0; step < HOURS_MOST; step += 1) {
    if (Math.floor(minuteOf(at) / 60) === hour) return at
    at += way * HOUR
  }
  return at
}

/** Of a clock that was ahead then: it says nothing of now. */
const known = (atMs: number | undefined, now: number): number =>
  atMs !== undefined && atMs <= now ? atMs : 0

/** When the next is due; null without a schedule. */
export const nextMs = ({ schedule }: Kept, now: number, zone: string | undefined): number | null =>
  schedule && hourAt(schedule.hour, now, zone, 1)

/**
 * Since when one is due, and may be begun; null where none is, or where one failed just now.
 * @param zone the shop's time zone
 */
export function dueSince(kept: Kept, now: number, zone: string | undefined): number | null {
  const { schedule, sinceMs, lastDone, lastFailed } = kept
  if (schedule === null) return null
  const dueMs = hourAt(schedule.hour, now, zone, -1)
  if (dueMs <= Math.max(known(sinceMs, now), known(lastDone?.atMs, now))) return null
  const failedMs = known(lastFailed?.atMs, now)
  return failedMs >= dueMs && now - failedMs < AGAIN_MS ? null : dueMs
}

/** Where there is a schedule, and none was made for two days; or there was one, and it is lost. */
export function lateOf(kept: Kept, now: number): BackupLate | null {
  const { schedule, sinceMs, lastDone, lastFailed } = kept
  if (lastFailed?.trouble.code === 'scheduleLost') return { lastMs: null }
  if (schedule === null || now - Math.max(lastDone?.atMs ?? 0, sinceMs) <= LATE_MS) return null
  return { lastMs: lastDone?.atMs ?? null }
}

/** The failure first: it says why. */
export function healthOf(kept: Kept, now: number): BackupHealth {
  const { lastFailed } = kept
  const isLost = lastFailed?.trouble.code === 'scheduleLost'
  if (kept.schedule === null && !isLost) return { code: 'notSet' }
  if (lastFailed !== null) return { code: 'failed', params: { trouble: lastFailed.trouble } }
  const late = lateOf(kept, now)
  return late === null ? { code: 'ok' } : { code: 'late', params: late }
}
