import type { Draft, Entry } from '../../machines/envelope.ts'
import type { Mark } from './mark.ts'

/** What the log came to know after a moment of the time before it. Pure. */

/** When the log knew an entry: a draft that no server has seen yet, when it was pressed. */
export const knownAt = (entry: Draft | Entry): number =>
  'recordedAt' in entry ? entry.recordedAt : entry.enteredAt

/** What was recorded by a moment and had happened by then. @param at UTC ms */
export const knownBy = <E extends Draft | Entry>(entries: readonly E[], at: number): E[] =>
  entries.filter((e) => knownAt(e) <= at && e.at <= at)

/** A press waits so long for the server before it is told late. */
const LATE_MS = 60_000

/**
 * The entries that came to the log late, each with when it did, UTC ms. Of one press that ends a whole pass
 * the earlier ends are reckoned back from it: they are as late as the last of them.
 */
export function lateIn(entries: readonly (Draft | Entry)[]): ReadonlyMap<string, number> {
  const pressed = new Map<string, number>()
  for (const { command, at } of entries)
    pressed.set(command, Math.max(at, pressed.get(command) ?? at))
  return new Map(
    entries.flatMap((entry) => {
      const recordedAt = knownAt(entry)
      const isLate = recordedAt - (pressed.get(entry.command) ?? entry.at) >= LATE_MS
      return isLate ? [[entry.id, recordedAt] as const] : []
    }),
  )
}

/** A press takes its way to the log within this: it is not told late. */
const PRESSED_MS = 10_000

/**
 * Facts that had happened and were not recorded yet, each from when it happened to when the log knew it,
 * and what was taken back later, at the time of what it takes back.
 * @param at the moment that is looked at, UTC ms
 */
export function laterMarks(entries: readonly (Draft | Entry)[], at: number): Mark[] {
  const of = { row: 'later', kind: 'later' } as const
  const then = new Map(knownBy(entries, at).map((entry) => [entry.id, entry]))
  return entries.flatMap((entry): Mark[] => {
    const to = knownAt(entry)
    if (to <= at) return []
    const mark = { ...of, to, entry: entry.id, numbers: [to] }
    if (entry.type === 'EntryVoided') {
      const target = then.get(String(entry.data.entry))
      return target ? [{ ...mark, from: target.at, what: target.type, flags: ['voided'] }] : []
    }
    const isOld = entry.at <= at && to - entry.at > PRESSED_MS
    return isOld ? [{ ...mark, from: entry.at, what: entry.type, flags: [] }] : []
  })
}
