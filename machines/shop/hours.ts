import type { Settings } from './settingsSchema.ts'

/**
 * A shop's clock: whole minutes since midnight, by its time zone.
 * @param timeZone an IANA name; without it, that of where this runs
 * @returns takes UTC ms
 */
export function minuteOfDayIn(timeZone: string | undefined): (ms: number) => number {
  const clock = new Intl.DateTimeFormat('en-GB', {
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
    ...(timeZone === undefined ? {} : { timeZone }),
  })
  return (ms) => {
    const parts = clock.formatToParts(ms)
    const of = (type: string) => Number(parts.find((part) => part.type === type)?.value ?? 0)
    return of('hour') * 60 + of('minute')
  }
}

const days = new Map<string, Intl.DateTimeFormat>()

/**
 * A shop's calendar: the day of an instant as text, by its time zone.
 * @param timeZone an IANA name; without it, that of where this runs
 * @returns takes UTC ms
 */
export function dayIn(timeZone: string | undefined): (ms: number) => string {
  const known = days.get(timeZone ?? '')
  const clock =
    known ??
    new Intl.DateTimeFormat('en-CA', {
      dateStyle: 'short',
      ...(timeZone === undefined ? {} : { timeZone }),
    })
  if (!known) days.set(timeZone ?? '', clock)
  return (ms) => clock.format(ms)
}

/** Minutes since midnight of a time of day such as 07:30. */
export function minutesOf(time: string): number {
  const [hour = 0, minute = 0] = time.split(':').map(Number)
  return hour * 60 + minute
}

/**
 * Whether a shop is open at an instant, by the hours that it has set; hours that close before they
 * open go over midnight.
 * @returns takes UTC ms; null where the shop has set no hours
 */
export function openHours({ hours, timeZone }: Settings): ((ms: number) => boolean) | null {
  if (!hours) return null
  const opens = minutesOf(hours.opensAt)
  const closes = minutesOf(hours.closesAt)
  const minuteOfDay = minuteOfDayIn(timeZone)
  return (ms) => {
    const now = minuteOfDay(ms)
    return opens < closes ? now >= opens && now < closes : now >= opens || now < closes
  }
}

const MINUTE_MS = 60_000
const DAY_MIN = 1_440
const DAY_MS = DAY_MIN * MINUTE_MS

/**
 * When a shop's clock shows a time of day next; a night with a change of clocks is as long as it is.
 * @param time such as 07:30
 * @param timeZone an IANA name; without it, that of where this runs
 * @param now UTC ms
 * @returns UTC ms, later than now
 */
export function nextAt(time: string, timeZone: string | undefined, now: number): number {
  const wanted = minutesOf(time)
  const minuteOfDay = minuteOfDayIn(timeZone)
  const minuteStart = now - (now % MINUTE_MS)
  const wait = (wanted - minuteOfDay(now) + DAY_MIN) % DAY_MIN || DAY_MIN
  const guess = minuteStart + wait * MINUTE_MS
  const off = minuteOfDay(guess) - wanted
  // A change of clocks on the way moves the guess by an hour, perhaps over midnight.
  const near = off > DAY_MIN / 2 ? off - DAY_MIN : off < -DAY_MIN / 2 ? off + DAY_MIN : off
  return guess - near * MINUTE_MS
}

/**
 * Until when what is said of a day holds: until the shop closes, of an evening until midnight. Over
 * the night it holds until the shop opens, without hours for a day and a night.
 * @param at when it was said, UTC ms
 */
export function holdsUntil(settings: Settings, at: number, overnight: boolean): number {
  const { hours, timeZone } = settings
  if (overnight) return hours ? nextAt(hours.opensAt, timeZone, at) : at + DAY_MS
  const midnight = nextAt('00:00', timeZone, at)
  if (!hours) return midnight
  const closes = nextAt(hours.closesAt, timeZone, at)
  return openHours(settings)?.(at) ? closes : Math.min(closes, midnight)
}
