import { byOccurrence, compareText, type Draft } from '../envelope.ts'
import { atOnce } from '../parts.ts'
import { BELLS, type BellClass, type BellKind } from './kinds.ts'

/**
 * How a shop's bells did: how often they called, how soon they were answered, what called most, and
 * whether the urgent ones stayed few. A bell that rang at several kiosks is one entry and counts
 * once: every kiosk shows every bell, so the count is also what each kiosk rang.
 */

/** The entries that the figures are made of. */
export const FIGURE_TYPES = [
  'BellRang',
  'BellAcknowledged',
  'BellEscalated',
  'BellHeld',
  'BellFlood',
  'EntryVoided',
] as const

export const PERIOD_MS = 600_000
/** Calls in ten minutes: acceptable, and the most that is manageable (ISA-18.2, EEMUA 191). */
export const ACCEPTABLE_PER_PERIOD = 1
export const CEILING_PER_PERIOD = 2
/** More calls than this in ten minutes are a flood (ISA-18.2). */
export const FLOOD_ABOVE = 10
/** Floods should fill less than this share of all ten-minute periods (ISA-18.2). */
export const FLOOD_SHARE_AIM = 0.01
/** Shares of the classes of annunciated alarms (ISA-18.2, IEC 62682). */
export const SHARE_AIM: Shares = { prompt: 0.8, medium: 0.15, high: 0.05 }
/** Above this share of urgent bells something is wrong (twice the share that ISA-18.2 aims at). */
export const HIGH_SHARE_MOST = 0.1
const SOURCES_MOST = 10

type Shares = { readonly [C in BellClass]: number }

/** What calls: a kind of bell, of one gun, or of one job, or of a cup without a job. */
export type Source = {
  readonly bell: BellKind
  readonly of: { readonly kind: 'gun' | 'job' | 'cup' | 'panel'; readonly id: string } | null
  readonly rang: number
}

export type BellFigures = {
  /** UTC ms. */
  readonly from: number
  readonly to: number
  readonly rang: number
  /** Ten-minute periods in which the shop was open or something rang. */
  readonly periods: number
  readonly perPeriod: number
  /** The ten minutes with most calls, wherever they begin; null where nothing rang. */
  readonly peak: { readonly rang: number; readonly fromMs: number } | null
  /** Share of the periods that were floods, 0 to 1. */
  readonly floodShare: number
  /** How often a kiosk had so much to ring that only the most urgent kind sounded. */
  readonly floodsBegun: number
  readonly acknowledged: number
  /** From rung to first acknowledged, ms; null where nothing was. */
  readonly medianMs: number | null
  readonly p95Ms: number | null
  /** Rang, and nobody has acknowledged it. */
  readonly neverAcknowledged: number
  /** Nobody answered in time, so it also called other people. */
  readonly escalated: number
  /** How often a bell was kept quiet because it rang again and again. */
  readonly held: number
  /** Those that called most, at most ten. */
  readonly sources: readonly Source[]
  /** Sum to 1; null where nothing rang. */
  readonly shares: Shares | null
  readonly isHighTooOften: boolean
}

type Rang = {
  readonly at: number
  readonly bell: BellKind
  readonly entry: Draft
  answeredMs: number | null
  hasEscalated: boolean
}

type Asked = {
  /** UTC ms: the first instant that counts, and the first that does not. */
  readonly from: number
  readonly to: number
  /** Whether the shop was open at an instant; without it, it always is. */
  readonly isOpen?: (ms: number) => boolean
}

/**
 * @param entries those of FIGURE_TYPES, at least from `from` on, in any order; others are passed over
 * @returns the figures of what rang from `from` to before `to`; what was voided never rang
 */
export const bellFigures = (entries: readonly Draft[], asked: Asked): BellFigures =>
  atOnce(bellFiguresInParts(entries, asked))

/** The same in parts: a year has tens of thousands of entries, and as many spans of ten minutes. */
export function* bellFiguresInParts(
  entries: readonly Draft[],
  { from, to, isOpen = () => true }: Asked,
): Generator<void, BellFigures> {
  const live = withoutVoided(entries)
  yield
  const isWithin = ({ at }: { readonly at: number }) => at >= from && at < to
  const rings = ringsOf(live).filter(isWithin)
  yield
  const told = live.filter(isWithin)
  const waits = rings.flatMap(({ answeredMs }) => answeredMs ?? []).sort((a, b) => a - b)
  const { periods, floods } = yield* periodsOf(rings, from, to, isOpen)
  const shares = sharesOf(rings)
  return {
    from,
    to,
    rang: rings.length,
    periods,
    perPeriod: periods === 0 ? 0 : rings.length / periods,
    peak: peakOf(rings),
    floodShare: periods === 0 ? 0 : floods / periods,
    floodsBegun: told.filter((e) => e.type === 'BellFlood' && e.data.isOn === true).length,
    acknowledged: waits.length,
    medianMs: medianOf(waits),
    // Nearest rank: a wait that somebody really had.
    p95Ms: waits[Math.ceil(0.95 * waits.length) - 1] ?? null,
    neverAcknowledged: rings.length - waits.length,
    escalated: rings.filter(({ hasEscalated }) => hasEscalated).length,
    held: told.filter((e) => e.type === 'BellHeld').length,
    sources: sourcesOf(rings),
    shares,
    isHighTooOften: (shares?.high ?? 0) > HIGH_SHARE_MOST,
  }
}

function withoutVoided(entries: readonly Draft[]): Draft[] {
  const voided = new Set(entries.flatMap((e) => (e.type === 'EntryVoided' ? e.data.entry : [])))
  return entries.filter((e) => !voided.has(e.id)).toSorted(byOccurrence)
}

/** A ring is answered by the first acknowledgement of its bell before it rings again. */
function ringsOf(entries: readonly Draft[]): Rang[] {
  const last = new Map<string, Rang>()
  const rings: Rang[] = []
  for (const entry of entries) {
    const { key, bell } = entry.data
    const rang = last.get(String(key))
    if (entry.type === 'BellAcknowledged' && rang) rang.answeredMs ??= entry.at - rang.at
    if (entry.type === 'BellEscalated' && rang) rang.hasEscalated = true
    if (entry.type !== 'BellRang' || !isKind(bell)) continue
    const ring: Rang = { at: entry.at, bell, entry, answeredMs: null, hasEscalated: false }
    last.set(String(key), ring)
    rings.push(ring)
  }
  return rings
}

const isKind = (bell: unknown): bell is BellKind =>
  typeof bell === 'string' && Object.hasOwn(BELLS, bell)

/** So many spans are looked at in a part: whether the shop was open is asked of the calendar. */
const PERIODS_A_PART = 500

function* periodsOf(
  rings: readonly Rang[],
  from: number,
  to: number,
  isOpen: (ms: number) => boolean,
): Generator<void, { periods: number; floods: number }> {
  const rangIn = new Map<number, number>()
  for (const { at } of rings) {
    const period = Math.floor((at - from) / PERIOD_MS)
    rangIn.set(period, (rangIn.get(period) ?? 0) + 1)
  }
  let periods = 0
  for (let n = 0; from + n * PERIOD_MS < to; n += 1) {
    if (n % PERIODS_A_PART === 0) yield
    if (rangIn.has(n) || isOpen(from + n * PERIOD_MS)) periods += 1
  }
  return { periods, floods: [...rangIn.values()].filter((rang) => rang > FLOOD_ABOVE).length }
}

/** Ten minutes that hold most can be moved on until they begin with a ring, and hold as many. */
function peakOf(rings: readonly Rang[]): BellFigures['peak'] {
  let peak: BellFigures['peak'] = null
  let end = 0
  for (const [i, { at }] of rings.entries()) {
    while ((rings[end]?.at ?? Number.POSITIVE_INFINITY) < at + PERIOD_MS) end += 1
    if (end - i > (peak?.rang ?? 0)) peak = { rang: end - i, fromMs: at }
  }
  return peak
}

function medianOf(sorted: readonly number[]): number | null {
  const upper = sorted[Math.floor(sorted.length / 2)]
  const lower = sorted[Math.ceil(sorted.length / 2) - 1]
  return upper === undefined || lower === undefined ? null : (lower + upper) / 2
}

function sourceOf({ gun, job, cup, panel }: Draft): Source['of'] {
  if (gun !== undefined) return { kind: 'gun', id: gun }
  if (job !== undefined) return { kind: 'job', id: job }
  if (cup !== undefined) return { kind: 'cup', id: cup }
  return panel === undefined ? null : { kind: 'panel', id: panel }
}

function sourcesOf(rings: readonly Rang[]): Source[] {
  const counted = new Map<string, Source>()
  for (const { bell, entry } of rings) {
    const of = sourceOf(entry)
    const name = `${bell} ${of?.kind} ${of?.id}`
    counted.set(name, { bell, of, rang: (counted.get(name)?.rang ?? 0) + 1 })
  }
  return [...counted]
    .sort(([a, x], [b, y]) => y.rang - x.rang || compareText(a, b))
    .slice(0, SOURCES_MOST)
    .map(([, source]) => source)
}

function sharesOf(rings: readonly Rang[]): Shares | null {
  if (rings.length === 0) return null
  const share = (of: BellClass) =>
    rings.filter(({ bell }) => BELLS[bell].class === of).length / rings.length
  return { prompt: share('prompt'), medium: share('medium'), high: share('high') }
}
