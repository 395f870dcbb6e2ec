import { compareText, type Draft } from '../envelope.ts'

/** What a shop did in a day: its coats, the material that it mixed, and what had to be done again. */

/** The entries that the counts are made of. */
export const DAY_TYPES = [
  'CoatFinished',
  'CoatBrokenOff',
  'CupMixed',
  'CupEmptied',
  'PanelSentBack',
  'PanelDenibbed',
  'PanelAbraded',
  'PanelPassed',
] as const

export type DayCounts = {
  /** Coats that ended, of each panel its own; by stage, the most first. */
  readonly coats: readonly { readonly stage: string; readonly coats: number }[]
  /** Cups that were mixed, by product; `discarded` of them were thrown away. */
  readonly material: readonly {
    readonly sheet: string
    readonly name: string
    readonly cups: number
    readonly totalMl: number
  }[]
  readonly discardedCups: number
  readonly passed: number
  /** Panels sent back to an earlier step. */
  readonly sentBack: number
  readonly denibbed: number
  readonly abraded: number
  readonly brokenOff: number
  /** Entries with an override, of all these. */
  readonly overrides: number
}

const textOf = (value: unknown): string => (typeof value === 'string' ? value : '')

/** Sums by a key, the largest first. */
function summed<T>(
  entries: readonly Draft[],
  keyOf: (entry: Draft) => string,
  row: (key: string, of: readonly Draft[]) => T,
): T[] {
  const groups = Map.groupBy(entries, keyOf)
  return [...groups]
    .sort(([a, x], [b, y]) => y.length - x.length || compareText(a, b))
    .map(([key, of]) => row(key, of))
}

/**
 * @param entries of DAY_TYPES, of one day
 * @param voided the ids of those that do not count
 */
export function dayCounts(entries: readonly Draft[], voided: ReadonlySet<string>): DayCounts {
  const live = entries.filter(({ id }) => !voided.has(id))
  const of = (type: (typeof DAY_TYPES)[number]) => live.filter((entry) => entry.type === type)
  return {
    coats: summed(
      of('CoatFinished'),
      ({ data }) => textOf(data.stage),
      (stage, all) => ({ stage, coats: all.length }),
    ),
    material: summed(
      of('CupMixed'),
      ({ sheet, data }) => sheet ?? textOf(data.sheet),
      (sheet, all) => ({
        sheet,
        name: textOf(all.at(-1)?.data.name),
        cups: all.length,
        totalMl: all.reduce((sum, { data }) => sum + Number(data.totalMl ?? 0), 0),
      }),
    ),
    discardedCups: of('CupEmptied').filter(({ data }) => data.how === 'discarded').length,
    passed: of('PanelPassed').length,
    sentBack: of('PanelSentBack').length,
    denibbed: of('PanelDenibbed').length,
    abraded: of('PanelAbraded').length,
    brokenOff: of('CoatBrokenOff').length,
    overrides: live.filter(({ override }) => override !== undefined).length,
  }
}
