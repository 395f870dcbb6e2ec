import type { BackupKeep } from '../../machines/contract/backup.ts'
import type { BackupName } from './name.ts'

/** Which backups are no longer kept. Pure. */

type Dated = Pick<BackupName, 'atMs'>

const DAY_MS = 86_400_000
/** 1970-01-01 was a Thursday: weeks begin on Monday. */
const TO_MONDAY_DAYS = 3

const dayOf = ({ atMs }: Dated): number => Math.floor(atMs / DAY_MS)
const weekOf = (one: Dated): number => Math.floor((dayOf(one) + TO_MONDAY_DAYS) / 7)
const monthOf = ({ atMs }: Dated): string => new Date(atMs).toISOString().slice(0, 7)

/**
 * What a rotation lets go of. Only days, weeks and months that have a backup are counted: a clock that
 * was years ahead for a day, or a shop that was closed for a month, uses up one of them and not all.
 * @param all of one shop, newest first
 * @returns never the newest; oldest last
 */
export function outdated<B extends Dated>(all: readonly B[], keep: BackupKeep): readonly B[] {
  const days = new Set([...new Set(all.map(dayOf))].slice(0, keep.days))
  const kept = new Set<B>([
    ...all.slice(0, 1),
    ...all.filter((one) => days.has(dayOf(one))),
    ...lastOfEach(all, weekOf).slice(0, keep.weeks),
    ...lastOfEach(all, monthOf).slice(0, keep.months),
  ])
  return all.filter((one) => !kept.has(one))
}

/** The newest of each week or month, newest first. */
function lastOfEach<B>(all: readonly B[], keyOf: (one: B) => number | string): readonly B[] {
  const seen = new Set<number | string>()
  return all.filter((one) => {
    const key = keyOf(one)
    if (seen.has(key)) return false
    seen.add(key)
    return true
  })
}
