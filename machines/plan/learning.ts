import type { AirMovers, AirReading } from '../clock/air.ts'
import type { Interval } from '../clock/line.ts'
import type { Step } from '../panel/context.ts'
import type { Stage } from '../sheet/schema.ts'
import { type Case, type Learned, learnedFrom } from './learned.ts'

/** What is kept of a log for the figures that a shop's own work gives; learnFold.ts reads it. */

/** A case, and the entry that it was made of: a void takes it away again. */
type Counted = Case & { readonly entry: string }

/** A panel on its way, as far as a case may come of it. */
export type Followed = {
  readonly job: string | null
  readonly areaM2: number | null
  readonly zone: string
  readonly route: readonly Pick<Step, 'stage' | 'sheet' | 'coats' | 'face' | 'work'>[]
  readonly done: readonly number[]
  readonly open: { readonly at: number; readonly gun: string | null } | null
  readonly last: {
    readonly at: number
    readonly sheet: string
    readonly flash: readonly Interval[]
    readonly notYetAt: number | null
  } | null
  /** When something was last done on it by hand. */
  readonly handAt: number | null
}

export type Air = {
  readonly readings: readonly AirReading[]
  readonly movers: readonly AirMovers[]
}
export type Film = { readonly dryUm: number; readonly solids: number }
type Table<T> = { readonly [id: string]: T }

/** Plain JSON, as large after ten years as after one. */
export type Learning = {
  readonly cases: Table<readonly Counted[]>
  readonly panels: Table<Followed>
  readonly sheets: Table<Film>
  readonly air: Table<Air>
  /** When each person last ended something by hand. */
  readonly hands: Table<number>
}

export const NOTHING_LEARNED: Learning = { cases: {}, panels: {}, sheets: {}, air: {}, hands: {} }

/** What is kept: the newest cases of a figure, and so many figures, panels, zones, people. */
const CASES_MOST = 60
export const KEYS_MOST = 300
export const PANELS_MOST = 400
export const ZONES_MOST = 40
export const READINGS_MOST = 80
export const HANDS_MOST = 100
/** A finish that was forgotten, or a slip of the pen, says nothing of the work. */
const LEAST = 0.2
const MOST = 5
/** The names of the figures. */
export const sprayKey = (stage: Stage): string => `spray:${stage}`
export const volumeKey = (stage: Stage, gun: string | null): string =>
  `volume:${stage}:${gun ?? ''}`
export const matteKey = (sheet: string): string => `matte:${sheet}`
export const handKey = (work: string): string => `hand:${work}`

/** A table with one more, or one again; of more than fit the one that was put first goes. */
export function put<T>(table: Table<T>, id: string, value: T, most: number): Table<T> {
  const { [id]: _, ...others } = table
  const kept = Object.entries(others)
  const fit = kept.length >= most ? Object.fromEntries(kept.slice(kept.length - most + 1)) : others
  return { ...fit, [id]: value }
}

export function without<T>(table: Table<T>, id: string | undefined): Table<T> {
  if (id === undefined || !Object.hasOwn(table, id)) return table
  const { [id]: _, ...others } = table
  return others
}

export function withCase(
  learning: Learning,
  key: string,
  entry: string,
  lo: number,
  hi: number,
): Learning {
  if (!(hi >= LEAST && hi <= MOST)) return learning
  const known = (learning.cases[key] ?? []).filter((one) => one.entry !== entry)
  const cases = [...known, { entry, lo, hi }].slice(-CASES_MOST)
  return { ...learning, cases: put(learning.cases, key, cases, KEYS_MOST) }
}

/** A case that was measured. */
export const measured = (learning: Learning, key: string, entry: string, value: number): Learning =>
  withCase(learning, key, entry, value, value)

/** What is there no longer if an entry never was. */
export function voided(learning: Learning, entry: string): Learning {
  const isOf = (one: Counted) => one.entry === entry
  const found = Object.entries(learning.cases).filter(([, cases]) => cases.some(isOf))
  if (found.length === 0) return learning
  const left = found.map(([key, cases]) => [key, cases.filter((one) => !isOf(one))])
  return { ...learning, cases: { ...learning.cases, ...Object.fromEntries(left) } }
}

/** A shop that says itself how long spraying takes starts to count anew. */
export function withoutSpray(learning: Learning): Learning {
  const cases = Object.entries(learning.cases).filter(
    ([key]) => !key.startsWith(sprayKey('' as Stage)),
  )
  return { ...learning, cases: Object.fromEntries(cases) }
}

/** What was learned of each figure, by its name; what has no case is not there. */
export type LearnedFigures = { readonly [key: string]: Learned }

export const figuresOf = ({ cases }: Learning): LearnedFigures =>
  Object.fromEntries(
    Object.entries(cases).flatMap(([key, all]) =>
      all.length === 0 ? [] : [[key, learnedFrom(all)] as const],
    ),
  )
