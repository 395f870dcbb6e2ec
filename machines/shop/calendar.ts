import { dayIn } from './hours.ts'

/** Days and weeks of a shop's calendar as numbers: day 0 is 1970-01-01. Pure arithmetic, without a clock. */

const HOUR_MS = 3_600_000
const DAY_MS = 24 * HOUR_MS

/**
 * The number of a day of the Gregorian calendar; a day beyond its month is one of the next month.
 * @param month 1 to 12
 * @see howardhinnant.github.io/date_algorithms.html, days_from_civil
 */
export function dayNumber(year: number, month: number, day: number): number {
  const fromMarch = month > 2 ? month - 3 : month + 9
  const y = month > 2 ? year : year - 1
  const era = Math.floor(y / 400)
  const yearOfEra = y - era * 400
  const dayOfYear = Math.floor((153 * fromMarch + 2) / 5) + day - 1
  const dayOfEra =
    yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear
  return era * 146_097 + dayOfEra - 719_468
}

/** The number of a day such as 2026-11-28. */
export function numberOfDay(text: string): number {
  const [year = 0, month = 0, day = 0] = text.split('-').map(Number)
  return dayNumber(year, month, day)
}

/** Monday of a week as ISO 8601 counts them: week 1 is the one with 4 January. */
export function mondayOf(year: number, week: number): number {
  const fourth = dayNumber(year, 1, 4)
  // Day 0 was a Thursday.
  const weekday = (fourth + 3) % 7
  return fourth - weekday + (week - 1) * 7
}

/**
 * When a day begins on a shop's clocks; days of 23 or 25 hours are told right.
 * @param timeZone an IANA name; without it, that of where this runs
 * @returns UTC ms
 */
export function startOfDay(day: number, timeZone: string | undefined): number {
  const dayOf = dayIn(timeZone)
  // No zone is further than 14 hours from UTC. Halved down to the millisecond.
  let before = day * DAY_MS - 15 * HOUR_MS
  let from = day * DAY_MS + 15 * HOUR_MS
  while (from - before > 1) {
    const middle = Math.floor((before + from) / 2)
    if (numberOfDay(dayOf(middle)) < day) before = middle
    else from = middle
  }
  return from
}
