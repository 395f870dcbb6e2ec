import { byOccurrence, type Draft, type Entry, type Json, type Override } from '../envelope.ts'
import { voidedIn } from '../live.ts'
import type { Disposition } from './dispositions.ts'
import { breachesOf, type Excess } from './excess.ts'

export { DISPOSITIONS, type Disposition } from './dispositions.ts'

/**
 * How a deviation is in the log: a fact that broke a limit, somebody who went on against a refusal,
 * what nobody could judge, an entry taken back, or a limit that was broken as is known only by now.
 */
export type DeviationKind = 'outside' | 'override' | 'notJudged' | 'void' | 'foundLater'

/** Where it was: as far as its entry says. */
export type Where = {
  readonly panel: string | null
  /** The panel's name as it was last told. */
  readonly panelName: string | null
  readonly stage: string | null
  /** The how-manieth start with this product on this panel; null for what is no coat. */
  readonly coat: number | null
  readonly cup: string | null
  readonly gun: string | null
  readonly zone: string | null
}

export type Deviation = {
  /** The id and, once it is in the log, the position of the entry that says it. */
  readonly entry: string
  readonly position: number | null
  readonly type: string
  readonly at: number
  readonly kind: DeviationKind
  /** A code of the table of refusals, or the type of a voided entry. */
  readonly code: string
  readonly limit: Json
  readonly value: Json
  readonly side?: 'low' | 'high' | 'humid'
  readonly excess: Excess | null
  readonly where: Where
  /** The reason of an override or of a void. */
  readonly reason: string | null
  /** Whether its entry was taken back later: then the limit was never broken. */
  readonly isVoided: boolean
  readonly disposition: Settled
}

/** What was decided, and the entry by which; null where nobody has decided. */
export type Settled = {
  readonly is: Disposition
  readonly entry: string | null
  readonly at: number | null
  readonly by: string | null
  readonly reason: string | null
}

/** Codes that are about the material: a cup that was thrown away was dealt with. */
const OF_CUP: readonly string[] = [
  'potLifeOver',
  'keepOver',
  'ratioOff',
  'noActivator',
  'inductionNotOver',
  'optionOutside',
  'noRoom',
]
/** Codes whose wait began with the film that lay there. */
const OF_FILM: readonly string[] = [
  'flashNotOver',
  'lookFirst',
  'windowShut',
  'sandEarly',
  'notReady',
]

const WATCHED: Settled = { is: 'watch', entry: null, at: null, by: null, reason: null }

const textIn = ({ data }: Draft, key: string): string | null =>
  typeof data[key] === 'string' ? (data[key] as string) : null
const numberIn = ({ data }: Draft, key: string): number | null =>
  typeof data[key] === 'number' ? (data[key] as number) : null

/** What the other entries of a job say of each of them, found once. */
class Past {
  readonly #all: readonly Draft[]
  readonly #voided: ReadonlySet<unknown>
  readonly #names = new Map<string, string>()
  readonly #coats = new Map<string, number>()
  readonly #finishes = new Map<string, number[]>()
  readonly #starts = new Map<string, number>()
  readonly #decided = new Map<string, Draft[]>()

  constructor(sorted: readonly Draft[]) {
    this.#all = sorted
    this.#voided = voidedIn(sorted)
    const counts = new Map<string, number>()
    for (const entry of sorted) {
      if (this.isVoided(entry)) continue
      const { type, panel, cup, id, at } = entry
      if (type === 'PanelAdded' && panel) this.#names.set(panel, textIn(entry, 'name') ?? panel)
      if (type === 'CoatFinished' && panel)
        this.#finishes.set(panel, [...(this.#finishes.get(panel) ?? []), at])
      if (isStart(entry) && panel) {
        const product = `${panel} ${textIn(entry, 'sheet')}`
        counts.set(product, (counts.get(product) ?? 0) + 1)
        this.#coats.set(id, counts.get(product) ?? 1)
      }
      if ((type === 'CupMixed' || type === 'CupPoured') && cup && !this.#starts.has(cup))
        this.#starts.set(cup, at)
      const about = type === 'PanelSentBack' ? panel : type === 'CupEmptied' ? cup : undefined
      if (about) this.#decided.set(about, [...(this.#decided.get(about) ?? []), entry])
      if (type === 'DeviationSettled') {
        const key = `${textIn(entry, 'entry')} ${textIn(entry, 'code')}`
        this.#decided.set(key, [...(this.#decided.get(key) ?? []), entry])
      }
    }
  }

  isVoided = ({ id }: Draft): boolean => this.#voided.has(id)

  entry = (id: unknown): Draft | undefined => this.#all.find((one) => one.id === id)

  whereOf(entry: Draft): Where {
    const { panel, cup, gun, zone } = entry
    return {
      panel: panel ?? null,
      panelName: panel === undefined ? null : (this.#names.get(panel) ?? panel),
      stage: textIn(entry, 'stage'),
      coat: this.#coats.get(entry.id) ?? null,
      cup: cup ?? null,
      gun: gun ?? null,
      zone: zone ?? null,
    }
  }

  /** When the wait or the clock began that a code is about. */
  begunAt({ panel, cup, at }: Draft, code: string): number | null {
    if (OF_FILM.includes(code))
      return this.#finishes.get(panel ?? '')?.findLast((finish) => finish <= at) ?? null
    if (OF_CUP.includes(code)) return this.#starts.get(cup ?? '') ?? null
    return null
  }

  /** What was done about it, the last word first: said of it, the panel sent back, the cup thrown away. */
  settled(entry: Draft, code: string, override: Override | undefined): Settled {
    const said = this.#decided.get(`${entry.id} ${code}`)?.at(-1)
    if (said) return settledBy(said, (textIn(said, 'disposition') ?? 'watch') as Disposition)
    const back = this.#decided.get(entry.panel ?? '')?.find((e) => e.at > entry.at)
    if (back) return settledBy(back, 'rework')
    const emptied = OF_CUP.includes(code)
      ? this.#decided.get(entry.cup ?? '')?.find((e) => e.at >= entry.at)
      : undefined
    if (emptied && textIn(emptied, 'how') === 'discarded') return settledBy(emptied, 'discard')
    if (override?.codes.includes(code))
      return { ...settledBy(entry, 'accept'), reason: override.reason }
    return WATCHED
  }
}

/** What an entry decided about a deviation. */
export const settledBy = (entry: Draft, is: Disposition): Settled => ({
  is,
  entry: entry.id,
  at: entry.at,
  by: entry.by,
  reason: entry.reason ?? textIn(entry, 'reason'),
})

/** A coat that begins: its start, or a finish that brings its own. */
const isStart = (entry: Draft): boolean =>
  entry.type === 'CoatStarted' ||
  (entry.type === 'CoatFinished' &&
    (numberIn(entry, 'startedAt') ?? numberIn(entry, 'estimatedStartAt')) !== null)

/** When what was judged happened: a finish that brings its start was judged at that. */
const judgedAt = (entry: Draft): number =>
  numberIn(entry, 'startedAt') ?? numberIn(entry, 'estimatedStartAt') ?? entry.at

function ofVoid(past: Past, entry: Draft, base: Omit<Deviation, 'kind' | 'code'>): Deviation {
  const target = past.entry(entry.data.entry)
  return {
    ...base,
    kind: 'void',
    code: textIn(entry, 'type') ?? 'EntryVoided',
    value: target?.id ?? textIn(entry, 'entry'),
    where: past.whereOf(target ?? entry),
    reason: entry.reason ?? null,
    disposition: settledBy(entry, 'discard'),
  }
}

/**
 * Every deviation in a job's entries, in the order in which they happened: each limit with what was
 * found and by how much, where that was, and what was decided about it. What was voided later stays
 * listed and says so; the void is listed too.
 * @param entries of one job with those of its cups and guns, in any order
 */
export function deviationsIn(entries: readonly (Draft | Entry)[]): Deviation[] {
  const sorted = entries.toSorted(byOccurrence)
  const past = new Past(sorted)
  return sorted.flatMap((entry): Deviation[] => {
    const base = {
      entry: entry.id,
      position: 'position' in entry ? entry.position : null,
      type: entry.type,
      at: entry.at,
      limit: null,
      value: null,
      excess: null,
      where: past.whereOf(entry),
      reason: null,
      isVoided: past.isVoided(entry),
      disposition: WATCHED,
    }
    if (entry.type === 'EntryVoided') return [ofVoid(past, entry, base)]
    const { outside = [], override, notJudged = [] } = entry
    const broken = [
      ...outside.map((one) => ({ ...one, kind: 'outside' as const, reason: null })),
      ...(override?.broken ?? []).map((one) => ({
        ...one,
        kind: 'override' as const,
        reason: override?.reason ?? null,
      })),
    ]
    return [
      ...broken.flatMap(({ kind, reason, ...one }) => {
        const begunAt = past.begunAt({ ...entry, at: judgedAt(entry) }, one.code)
        const disposition = past.settled(entry, one.code, override)
        const { code } = one
        return breachesOf(one, begunAt).map((b) => ({
          ...base,
          kind,
          code,
          reason,
          disposition,
          ...b,
        }))
      }),
      ...notJudged.map((code) => ({
        ...base,
        kind: 'notJudged' as const,
        code,
        disposition: past.settled(entry, code, undefined),
      })),
    ]
  })
}
