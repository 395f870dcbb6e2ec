import type { Draft } from '../envelope.ts'
import { dayNumber, startOfDay } from '../shop/calendar.ts'
import { dayIn } from '../shop/hours.ts'

/** Training of who sprays, and the filters: what is due, and when that is said. */

const DAY_MS = 86_400_000
/** Warned this long before. */
export const WARN_DAYS = 60
/**
 * A refresher at least every five years, as EPA Region 10's page for collision repair shops puts what
 * 40 CFR 63.11173(f) asks for; 63.11177(a) has the dates of the first training and the latest refresher kept.
 */
export const REFRESHER_YEARS = 5
/**
 * What the filters of a booth or prep station have to hold back, as the Iowa Waste Reduction Center sums the
 * rule up; 40 CFR 63.11177(b) has the paper about it kept.
 */
export const FILTER_LEAST = 0.98

export type Due = 'ok' | 'soon' | 'over' | 'notRecorded'
export type TrainingDue = {
  readonly person: string
  readonly name: string
  readonly doneMs: number | null
  readonly dueMs: number | null
  readonly due: Due
}
export type FilterDue = {
  readonly zone: string
  /** What the shop calls the zone. */
  readonly name: string
  readonly what: string
  readonly doneMs: number
  readonly nextMs: number | null
  readonly efficiency: number | null
  readonly due: Due
}

/** @param dueMs null: nobody said when */
export const dueOf = (dueMs: number | null, now: number): Due =>
  dueMs === null
    ? 'notRecorded'
    : now >= dueMs
      ? 'over'
      : now >= dueMs - WARN_DAYS * DAY_MS
        ? 'soon'
        : 'ok'

/** The same day some years later on the shop's calendar; 29 February counts to 1 March. */
export function yearsAfter(ms: number, years: number, timeZone: string | undefined): number {
  const [year = 0, month = 1, day = 1] = dayIn(timeZone)(ms).split('-').map(Number)
  return startOfDay(dayNumber(year + years, month, day), timeZone)
}

/** A wrong one that a later one stands in place of does not count. */
export function withoutReplaced(entries: readonly Draft[]): Draft[] {
  const replaced = new Set(entries.map(({ data }) => data.replaces))
  return entries.filter(({ id }) => !replaced.has(id))
}

/**
 * The last training of everybody who was trained, and those of the list who never were.
 * @param people those who are present, by id
 */
export function trainingsDue(
  entries: readonly Draft[],
  people: Readonly<Record<string, string>>,
  { now, timeZone }: { readonly now: number; readonly timeZone: string | undefined },
): TrainingDue[] {
  const last = new Map<string, { name: string; doneMs: number }>()
  for (const { data } of entries) {
    const { person, name, doneMs } = data as { person: string; name: string; doneMs: number }
    if ((last.get(person)?.doneMs ?? 0) <= doneMs) last.set(person, { name, doneMs })
  }
  const trained = [...last].map(([person, { name, doneMs }]): TrainingDue => {
    const dueMs = yearsAfter(doneMs, REFRESHER_YEARS, timeZone)
    return { person, name: people[person] ?? name, doneMs, dueMs, due: dueOf(dueMs, now) }
  })
  const never = Object.entries(people)
    .filter(([person]) => !last.has(person))
    .map(
      ([person, name]): TrainingDue => ({
        ...{ person, name, doneMs: null, dueMs: null, due: 'notRecorded' },
      }),
    )
  return [...trained, ...never].toSorted((a, b) => (a.dueMs ?? 0) - (b.dueMs ?? 0))
}

/**
 * The last of each kind of work on each zone's filters.
 * @param zones what they are called, by id
 */
export function filtersDue(
  entries: readonly Draft[],
  zones: Readonly<Record<string, string>>,
  now: number,
): FilterDue[] {
  const last = new Map<string, FilterDue>()
  for (const { zone = '', at, data } of withoutReplaced(entries)) {
    const {
      what,
      doneMs = at,
      nextMs = null,
      efficiency = null,
    } = data as {
      what: string
      doneMs?: number
      nextMs?: number
      efficiency?: number
    }
    const key = `${zone} ${what}`
    if ((last.get(key)?.doneMs ?? 0) > doneMs) continue
    const due = dueOf(nextMs, now)
    last.set(key, { zone, name: zones[zone] ?? zone, what, doneMs, nextMs, efficiency, due })
  }
  return [...last.values()]
}
