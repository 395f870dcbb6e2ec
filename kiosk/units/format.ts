import type { ClockSpan } from '../../machines/contract.ts'
import type { Settings } from '../../machines/shop/settingsSchema.ts'
import { F_AT_0C, F_PER_C, KPA_PER_BAR, KPA_PER_PSI, localeOf, ML_PER_FL_OZ } from './measure.ts'

/** How a shop's kiosk writes times, temperatures and amounts. Storage stays SI. */
export type Format = {
  /** 14:26, or 2:26 PM. */
  readonly time: (ms: number) => string
  /** As `time`, with "+1" for tomorrow, the weekday for the days after it, and the date for any other. */
  readonly timeAndDay: (ms: number, now: number) => string
  /** The day, with its year where it is another one than that of now. */
  readonly date: (ms: number, now: number) => string
  /** With its year whatever it is: of what may be years old, or of a clock that nobody trusts. */
  readonly fullDate: (ms: number) => string
  /** The instant of a date and time as typed (2026-01-05T14:26) on the shop's clocks; NaN for none. */
  readonly instant: (typed: string) => number
  readonly temperature: (tempC: number) => string
  /** A difference of temperatures: no 32 is added. */
  readonly degrees: (differenceC: number) => string
  /**
   * A dew point and how far a surface lies above it, so that they add up to the surface in the figures shown.
   * @param surfaceC null where nobody measured it
   */
  readonly dew: (dewC: number, surfaceC: number | null) => { point: string; above: string | null }
  readonly humidity: (rh: number) => string
  readonly volume: (ml: number) => string
  readonly pressure: (kpa: number) => string
  /** A plain number with the given count of decimals. */
  readonly number: (value: number, digits: number) => string
  /** What the shop types and reads in. */
  readonly units: Settings['units']
}

const DAY_MS = 86_400_000

/** Made when it is first asked for: on a slow device each of Intl's formats takes a part of a second. */
function onDemand<T>(make: () => T): () => T {
  let made: T | null = null
  return () => {
    made ??= make()
    return made
  }
}

/** 2026-01-05 14:26:09 of clocks so far ahead of UTC. */
const ahead = (ms: number, byMs: number): string =>
  new Date(ms + byMs).toISOString().slice(0, 19).replace('T', ' ')

/** The same on the device's own clock, whose zone it knows without Intl. */
const onDevice = (ms: number): string => ahead(ms, -new Date(ms).getTimezoneOffset() * 60_000)

/** As both languages write a number: 12,345.6. */
function inThousands(text: string): string {
  const [whole = '', ...part] = text.split('.')
  return [whole.replace(/\B(?=(\d{3})+$)/g, ','), ...part].join('.')
}

/** 14:26 as 2:26 PM. */
function on12h(time: string): string {
  const hour = Number(time.slice(0, 2))
  return `${hour % 12 || 12}${time.slice(2)} ${hour < 12 ? 'AM' : 'PM'}`
}

/**
 * @param settings the shop's choices; what it has not set is °C, mL, 24 h and the browser's time zone
 * @param clocks how far the shop's clocks are ahead about now, where that is known: Intl is then asked about other times alone
 */
export function formatOf(settings: Settings, clocks: ClockSpan | null = null): Format {
  const locale = localeOf(settings.language)
  const timeZone = settings.timeZone ? { timeZone: settings.timeZone } : {}
  const hour12 = settings.clock === '12h'
  const known = clocks?.timeZone === settings.timeZone ? clocks : null
  const dates = (of: string, how: Intl.DateTimeFormatOptions) =>
    onDemand(() => new Intl.DateTimeFormat(of, { ...how, ...timeZone }))
  const day = dates(locale, { weekday: 'short' })
  const monthDay = { weekday: 'short', day: 'numeric', month: 'short' } as const
  const date = dates(locale, monthDay)
  const fullDate = dates(locale, { ...monthDay, year: 'numeric' })
  // 2026-01-05 14:26:09, which holds the clock of 24 hours and the number of the day too.
  const inZone = dates('sv-SE', { dateStyle: 'short', timeStyle: 'medium' })
  const dateAndTime = (ms: number): string => {
    if (!settings.timeZone) return onDevice(ms)
    const isKnown = known !== null && ms >= known.fromMs && ms < known.untilMs
    return isKnown ? ahead(ms, known.aheadMs) : inZone().format(ms)
  }
  const rounded = (value: number, step: number, digits: number): string => {
    const inSteps = Math.round(value / step) * step
    return inThousands(inSteps.toFixed(digits))
  }
  const isF = settings.units?.temperature === 'F'
  const isFlOz = settings.units?.volume === 'flOz'
  const isPsi = settings.units?.pressure === 'psi'
  const clockLessUtc = (ms: number) =>
    Date.parse(`${dateAndTime(ms).replace(' ', 'T')}Z`) - Math.floor(ms / 1_000) * 1_000
  // In numbers: the day before a change of the clocks is as near as any other.
  const dayOf = (ms: number) => Date.parse(dateAndTime(ms).slice(0, 10)) / DAY_MS
  const yearOf = (ms: number) => dateAndTime(ms).slice(0, 4)
  const time = (ms: number) => {
    const shown = dateAndTime(ms).slice(11, 16)
    return hour12 ? on12h(shown) : shown
  }
  const dateOf = (ms: number, now: number) =>
    (yearOf(ms) === yearOf(now) ? date() : fullDate()).format(ms)
  const unit = isF ? '°F' : '°C'
  return {
    time,
    timeAndDay: (ms, now) => {
      const ahead = dayOf(ms) - dayOf(now)
      if (ahead === 0) return time(ms)
      if (ahead === 1) return `${time(ms)} +1`
      // Seven days on is the same weekday; what is past may be of any week.
      if (ahead > 0 && ahead < 7) return `${time(ms)} ${day().format(ms)}`
      return `${time(ms)} ${dateOf(ms, now)}`
    },
    date: dateOf,
    fullDate: (ms) => fullDate().format(ms),
    instant: (typed) => {
      const asUtc = Date.parse(`${typed}Z`)
      if (Number.isNaN(asUtc)) return asUtc
      // Twice: the first guess may lie on the other side of a change of the clocks.
      const guess = asUtc - clockLessUtc(asUtc)
      return asUtc - clockLessUtc(guess)
    },
    temperature: (c) =>
      `${isF ? rounded(c * F_PER_C + F_AT_0C, 1, 0) : rounded(c, 0.5, 1)} ${unit}`,
    degrees: (c) => `${isF ? rounded(c * F_PER_C, 1, 0) : rounded(c, 0.1, 1)} ${unit}`,
    dew: (dewC, surfaceC) => {
      const [step, digits] = isF ? [1, 0] : [0.1, 1]
      const shown = (c: number) => Math.round((isF ? c * F_PER_C + F_AT_0C : c) / step) * step
      const said = (value: number) => `${rounded(value, step, digits)} ${unit}`
      const above = surfaceC === null ? null : said(shown(surfaceC) - shown(dewC))
      return { point: said(shown(dewC)), above }
    },
    humidity: (rh) => `${Math.round(rh * 100)} %`,
    volume: (ml) =>
      isFlOz
        ? `${rounded(ml / ML_PER_FL_OZ, 0.05, 2)} fl oz`
        : `${rounded(ml, ml <= 500 ? 1 : 5, 0)} mL`,
    pressure: (kpa) =>
      isPsi
        ? `${rounded(kpa / KPA_PER_PSI, 1, 0)} psi`
        : `${rounded(kpa / KPA_PER_BAR, 0.1, 1)} bar`,
    number: (value, digits) => rounded(value, 10 ** -digits, digits),
    units: settings.units,
  }
}

/** A countdown: 6:42, 1:04:10; what is past counts up with a minus. */
export function countdown(ms: number): string {
  const seconds = Math.ceil(Math.abs(ms) / 1000)
  const h = Math.floor(seconds / 3600)
  const min = Math.floor((seconds % 3600) / 60)
  const s = String(seconds % 60).padStart(2, '0')
  const sign = ms < 0 && seconds > 0 ? '−' : ''
  return h > 0 ? `${sign}${h}:${String(min).padStart(2, '0')}:${s}` : `${sign}${min}:${s}`
}

/** So many minutes are said as such, which is short where it is read from far. */
const MINUTES_MOST = 99

/** A length in few words: 31 min, 2 h 10 min. Each number has its unit, and the minutes theirs on the same line. */
export function shortLength(ms: number): string {
  const minutes = Math.max(0, Math.ceil(ms / 60_000))
  if (minutes <= MINUTES_MOST) return `${minutes} min`
  const rest = minutes % 60
  if (minutes < 48 * 60)
    return `${Math.floor(minutes / 60)} h${rest === 0 ? '' : ` ${rest}\u00a0min`}`
  return `${Math.floor(minutes / 1440)} d`
}

/** A short length in seconds, as long as they say more than minutes: 45 s, 31 min. */
export const secondsOrLength = (ms: number): string =>
  ms < 120_000 ? `${Math.round(ms / 1000)} s` : shortLength(ms)
