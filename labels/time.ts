/** Clock times as printed on a label: in the shop's time zone, cut to the minute, never rounded up. */

export type ClockStyle = {
  readonly language: 'en' | 'es'
  /** IANA name, such as "Europe/Madrid". */
  readonly timeZone: string
  readonly clock: '24h' | '12h'
}

export type ClockText = {
  /** "15:05", or "3:05" by the 12 h clock. */
  readonly time: string
  /** AM or PM by the 12 h clock, else empty. */
  readonly half: 'AM' | 'PM' | ''
  /**
   * The zone's short name, only in the hour that the end of summer time brings twice: without it
   * a cup that ends in the first of the two could be sprayed through the second.
   */
  readonly zone: string
  /** "WED", "MIÉ" */
  readonly weekday: string
  /** "25 NOV" */
  readonly date: string
  readonly year: string
  /** The same text for two times of one local day; to compare, not to show. */
  readonly day: string
}

const LOCALES = { en: 'en-US', es: 'es-MX' } as const
const MINUTE_MS = 60_000
/** How far clocks are set back: an hour, on Lord Howe Island half of one (IANA tz database). */
const SET_BACK_MS = [60 * MINUTE_MS, 30 * MINUTE_MS]

const formats = new Map<string, Intl.DateTimeFormat>()

/** Making a format costs far more than using it. */
function formatOf(locale: string, timeZone: string, withZone = false): Intl.DateTimeFormat {
  const key = `${locale} ${timeZone} ${withZone}`
  const kept = formats.get(key)
  if (kept) return kept
  const made = new Intl.DateTimeFormat(locale, {
    timeZone,
    calendar: 'gregory',
    numberingSystem: 'latn',
    hourCycle: 'h23',
    hour: '2-digit',
    minute: '2-digit',
    day: 'numeric',
    month: 'short',
    weekday: 'short',
    year: 'numeric',
    ...(withZone ? { timeZoneName: 'short' } : {}),
  })
  formats.set(key, made)
  return made
}

type Parts = { readonly [type in Intl.DateTimeFormatPartTypes]?: string }

function partsOf(atMs: number, locale: string, timeZone: string, withZone = false): Parts {
  const parts = formatOf(locale, timeZone, withZone).formatToParts(atMs)
  return Object.fromEntries(parts.map((part) => [part.type, part.value]))
}

const wallOf = (atMs: number, timeZone: string): string =>
  formatOf(LOCALES.en, timeZone).format(atMs)

const isTwice = (atMs: number, timeZone: string): boolean =>
  SET_BACK_MS.some((ms) =>
    [atMs - ms, atMs + ms].some((other) => wallOf(other, timeZone) === wallOf(atMs, timeZone)),
  )

const capitals = (word = '') => word.replaceAll('.', '').toUpperCase()

/**
 * A moment as a label or a screen writes it.
 * @param atMs UTC milliseconds
 * @throws RangeError for a time zone that the runtime does not know
 */
export function clockText(atMs: number, style: ClockStyle): ClockText {
  const parts = partsOf(atMs, LOCALES[style.language], style.timeZone)
  const english = partsOf(atMs, LOCALES.en, style.timeZone, true)
  const hour = Number(parts.hour)
  const is12h = style.clock === '12h'
  const hourText = is12h ? String(hour % 12 || 12) : String(hour).padStart(2, '0')
  return {
    time: `${hourText}:${parts.minute?.padStart(2, '0')}`,
    half: is12h ? (hour < 12 ? 'AM' : 'PM') : '',
    zone: isTwice(atMs, style.timeZone) ? (english.timeZoneName ?? '') : '',
    weekday: capitals(parts.weekday),
    date: `${parts.day} ${capitals(parts.month)}`,
    year: parts.year ?? '',
    day: `${parts.year} ${english.month} ${parts.day}`,
  }
}
