import type { Stage } from '../machines/sheet/schema.ts'
import type { Hazard } from './hazard.ts'
import type { CupCode } from './payload.ts'
import { type ClockStyle, type ClockText, clockText } from './time.ts'
import { type Words, wordsOf } from './words.ts'

/** All that a cup's label says. Times are UTC milliseconds, volumes mL, temperatures °C. */
export type CupLabel = {
  readonly shopTag: string
  readonly cup: string
  /** The product as its container and safety sheet name it. */
  readonly product: string
  readonly colourCode?: string
  readonly stage: Stage
  readonly hasActivator: boolean
  readonly ratio: string
  readonly by: 'volume' | 'mass'
  readonly totalMl: number
  readonly mixedAtMs: number
  /** Null where there is no pot life. */
  readonly useByMs: number | null
  readonly keepUntilMs: number | null
  /** The temperature that the pot life was calculated at; null where there is none. */
  readonly potBasisC: number | null
  readonly hazard: Hazard
  /** Null for stock. */
  readonly job: string | null
  readonly panel?: string
  /** Initials or a code of who mixed. */
  readonly mixedBy?: string
  /** The cups that it was poured from; it ends with the first of them. */
  readonly parents?: readonly string[]
  /** 0 for the first label; n for its n-th reprint, which says COPY n and changes nothing else. */
  readonly copy: number
}

export type LabelStyle = ClockStyle & {
  readonly temperature: 'C' | 'F'
  readonly volume: 'mL' | 'flOz'
}

const MINUTE_MS = 60_000
const DAY_MS = 24 * 60 * MINUTE_MS
const ML_PER_FL_OZ = 29.5735

/** What the top of a label says: large what ends and when, small when it was mixed. */
export type HeadText = {
  readonly title: string
  readonly under: string
  readonly big: string
  readonly tail: string
  /** Under the tail, in the few cases where a weekday alone could be misread. */
  readonly extra: string
  /** The pot life that the time comes from, or what to do where there is none; then a shorter form. */
  readonly notes: readonly string[]
}

const spaced = (...words: readonly string[]) => words.filter((word) => word !== '').join(' ')

/** The expiry is a clock time with its day: a duration alone means nothing an hour later. */
export function headText(label: CupLabel, style: LabelStyle): HeadText {
  const words = wordsOf(style.language)
  const mixed = clockText(label.mixedAtMs, style)
  if (label.useByMs === null) return keptText(label, style, words, mixed)
  const ends = clockText(label.useByMs, style)
  // From the sixth day on a weekday alone could be taken for the one before.
  const isFar = label.useByMs - label.mixedAtMs >= 6 * DAY_MS
  const basis = basisText(label, style, words)
  const mixedDay = mixed.day === ends.day ? '' : mixed.weekday
  return {
    title: words.useBy,
    under: spaced(words.mixed, mixed.time, mixed.half, mixedDay),
    big: ends.time,
    tail: spaced(ends.half, ends.weekday),
    extra: spaced(isFar ? ends.date : '', ends.zone),
    notes: [spaced(durationText(label, words), basis), basis],
  }
}

function keptText(label: CupLabel, style: LabelStyle, words: Words, mixed: ClockText): HeadText {
  const under = spaced(words.mixed, mixed.date)
  if (label.keepUntilMs === null) {
    return { title: words.noPotLife, under, big: words.stir, tail: '', extra: '', notes: [''] }
  }
  const ends = clockText(label.keepUntilMs, style)
  return {
    title: words.keepUntil,
    under,
    big: ends.date,
    tail: ends.year,
    extra: '',
    notes: [words.noPotLife],
  }
}

/** Cut to whole minutes as the code in the QR is, so that both say the same. */
function durationText(label: CupLabel, words: Words): string {
  const minuteOf = (ms: number) => Math.floor(ms / MINUTE_MS)
  const minutes = Math.max(0, minuteOf(label.useByMs ?? 0) - minuteOf(label.mixedAtMs))
  if (minutes < 120) return `${minutes} ${words.minutes}`
  const rest = minutes % 60
  const hours = `${Math.floor(minutes / 60)} ${words.hours}`
  return rest === 0 || minutes > 24 * 60 ? hours : `${hours} ${rest} ${words.minutes}`
}

function basisText(label: CupLabel, style: LabelStyle, words: Words): string {
  if (label.potBasisC === null) return ''
  // In half degrees Celsius or whole degrees Fahrenheit.
  const shown =
    style.temperature === 'F'
      ? String(Math.round(label.potBasisC * 1.8 + 32))
      : String(Math.round(label.potBasisC * 2) / 2)
  return `${words.at} ${shown} °${style.temperature}`
}

/** In steps of 1 mL up to 500 mL, then 5 mL; in US fluid ounces of 0.05. */
export function totalText(totalMl: number, style: LabelStyle): string {
  if (style.volume === 'flOz') {
    return `${Math.round((totalMl / ML_PER_FL_OZ) * 20) / 20} FL OZ`
  }
  return `${totalMl <= 500 ? Math.round(totalMl) : Math.round(totalMl / 5) * 5} mL`
}

/** True where the label warns of isocyanate: a hardener whose hazards nobody entered may be one. */
export const warnsOfIsocyanate = (label: CupLabel): boolean =>
  label.hazard.isocyanate || (label.hazard.signal === 'missing' && label.hasActivator)

/** The label's own facts, for its QR. */
export const codeOf = (label: CupLabel): CupCode => ({
  ...label,
  hazard: { ...label.hazard, isocyanate: warnsOfIsocyanate(label) },
})

const plain = (text: string) =>
  text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toUpperCase()
    .replace(/[^A-Z0-9 .:+%#&*-]+/g, ' ')

/** The same with names in plain capitals, which need no room above and below their line. */
export const plainLabel = (label: CupLabel): CupLabel => ({
  ...label,
  product: plain(label.product),
  colourCode: plain(label.colourCode ?? ''),
  panel: plain(label.panel ?? ''),
  mixedBy: plain(label.mixedBy ?? ''),
})
