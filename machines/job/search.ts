import { dayNumber, mondayOf, numberOfDay, startOfDay } from '../shop/calendar.ts'
import { dayIn } from '../shop/hours.ts'

/**
 * How a job is found by what is typed: its plate, vehicle, title, color, panel or number, a day, a month or
 * a week. Pure: the server asks its index by it, a kiosk what it holds.
 */

/** UTC ms, `toMs` not included. */
export type Stretch = { readonly fromMs: number; readonly toMs: number }

export type JobQuery = {
  /** Each is somewhere in the text of the job. */
  readonly words: readonly string[]
  /** The job was open or written of then; null for any time. */
  readonly within: Stretch | null
}

/** What is left of a text for finding: letters and digits, no accents, no capitals: "AB-12 Cd" is "ab12cd". */
export const foldedText = (text: string): string =>
  text
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]/gu, '')

/** The text of a job: its fields folded, each a line of its own. */
export const searchText = (fields: readonly string[]): string =>
  fields
    .map(foldedText)
    .filter((field) => field !== '')
    .join('\n')

const WEEK = /(?<![\p{L}\p{N}])(?:(\d{4})[- ]?)?(?:week|semana|w)[ .]?(\d{1,2})(?!\d)/iu
const DATE = /(?<!\d)(\d{4})-(\d{2})(?:-(\d{2}))?(?!\d)/u

/** Numbers of days, `to` not included. */
type Days = { readonly from: number; readonly to: number }

/** The week that is meant; without its year the last one that has begun. */
function weekIn([, year, given]: RegExpExecArray, today: string): Days | null {
  const week = Number(given)
  if (week < 1 || week > 53) return null
  const thisYear = Number(today.slice(0, 4))
  const monday =
    year === undefined
      ? [thisYear + 1, thisYear, thisYear - 1]
          .map((one) => mondayOf(one, week))
          .find((one) => one <= numberOfDay(today))
      : mondayOf(Number(year), week)
  return monday === undefined ? null : { from: monday, to: monday + 7 }
}

function daysIn([, year, month, day]: RegExpExecArray): Days | null {
  const [y, m] = [Number(year), Number(month)]
  if (m < 1 || m > 12) return null
  const next = m === 12 ? dayNumber(y + 1, 1, 1) : dayNumber(y, m + 1, 1)
  if (day === undefined) return { from: dayNumber(y, m, 1), to: next }
  const from = dayNumber(y, m, Number(day))
  return Number(day) >= 1 && from < next ? { from, to: from + 1 } : null
}

/**
 * What is asked for by a line that somebody typed: words, and "week 48", "2025-W48", "2025-11" or "2025-11-28".
 * @param now UTC ms: a week without its year is the last one
 * @param timeZone the shop's, an IANA name
 */
export function jobQuery(typed: string, now: number, timeZone: string | undefined): JobQuery {
  const week = WEEK.exec(typed)
  const date = week ? null : DATE.exec(typed)
  const days = week ? weekIn(week, dayIn(timeZone)(now)) : date && daysIn(date)
  const rest = days ? typed.replace((week ?? date)?.[0] ?? '', ' ') : typed
  return {
    words: rest
      .split(/\s+/u)
      .map(foldedText)
      .filter((word) => word !== ''),
    within: days && {
      fromMs: startOfDay(days.from, timeZone),
      toMs: startOfDay(days.to, timeZone),
    },
  }
}

export type Searched = {
  /** As `searchText` makes it. */
  readonly text: string
  /** UTC ms. */
  readonly openedAt: number
  /** UTC ms of the last that happened to the job. */
  readonly lastAt: number
}

/** Whether a job is one that is asked for. */
export const isFound = (
  { text, openedAt, lastAt }: Searched,
  { words, within }: JobQuery,
): boolean =>
  words.every((word) => text.includes(word)) &&
  (within === null || (openedAt < within.toMs && lastAt >= within.fromMs))
