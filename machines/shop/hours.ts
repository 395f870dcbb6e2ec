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
