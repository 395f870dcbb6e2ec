import type { CupContents } from '../cup/machine.ts'
import type { Sheet } from '../sheet/schema.ts'
import { voc } from '../trade/voc.ts'
import type { Jurisdiction } from '../trade/vocLimits.ts'

/** What a cup was mixed of, in mL and g, and its VOC ready to spray. */

/** What records ask of the version of a sheet that a cup was mixed by. */
export type SheetThen = Pick<Sheet, 'components' | 'stage' | 'vocCategory' | 'name'>

/** One component as it was poured, or as the ratio gives it; null where no density says so. */
export type Portion = {
  readonly name: string
  readonly ml: number | null
  readonly g: number | null
}

type Mixed = Pick<CupContents, 'totalMl' | 'by' | 'parts'>
type Component = Sheet['components'][number]

const sum = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0)
const sumOrNull = (all: readonly (number | null)[]): number | null =>
  all.every((n) => n !== null) ? sum(all as number[]) : null

/** What each component has in its own measure: mL of a ratio by volume, g of one by mass. */
function amountsOf({ totalMl, by, parts }: Mixed, components: readonly Component[]) {
  if (parts && parts.length === components.length) return parts.map(({ amount }) => amount)
  const whole =
    by === 'volume'
      ? sum(components.map((c) => c.parts))
      : sumOrNull(components.map((c) => (c.densityGPerMl ? c.parts / c.densityGPerMl : null)))
  return components.map((c) => (whole ? (c.parts * totalMl) / whole : null))
}

/**
 * A mix by its components.
 * @param sheet the version that it was mixed by
 */
export function portionsOf(mixed: Mixed, { components }: Pick<Sheet, 'components'>): Portion[] {
  const amounts = amountsOf(mixed, components)
  return components.map(({ name, densityGPerMl: density }, i) => {
    const amount = amounts[i] ?? null
    const other = (factor: number | null) =>
      amount === 0 ? 0 : amount === null || factor === null ? null : amount * factor
    return mixed.by === 'volume'
      ? { name, ml: amount, g: other(density ?? null) }
      : { name, ml: other(density ? 1 / density : null), g: amount }
  })
}

/** The whole of some portions: what is known, and the mL of it that has no weight. */
export function wholeOf(portions: readonly Portion[]) {
  return {
    ml: sum(portions.map(({ ml }) => ml ?? 0)),
    g: sum(portions.map(({ g }) => g ?? 0)),
    mlWithoutG: sum(portions.map(({ ml, g }) => (g === null ? (ml ?? 0) : 0))),
  }
}

export type VocFigure = { readonly regulatoryGPerL: number; readonly actualGPerL: number }

/**
 * VOC of a mix, g/L.
 * @returns null where a density or a share of volatiles was not typed: then nothing is guessed
 */
export function vocOf(
  portions: readonly Portion[],
  { components }: Pick<Sheet, 'components'>,
  basis: Jurisdiction['vocBasis'],
): VocFigure | null {
  const used = components.flatMap((c, i) => {
    const ml = portions[i]?.ml ?? null
    return ml === 0 ? [] : [{ ...c, parts: ml }]
  })
  const known = used.flatMap(({ parts, densityGPerMl, volatile, water, exempt }) =>
    parts === null || densityGPerMl === undefined || volatile === undefined
      ? []
      : [
          {
            ...{ parts, densityGPerMl, volatile },
            ...(water === undefined ? {} : { water }),
            ...(exempt === undefined ? {} : { exempt }),
          },
        ],
  )
  if (known.length === 0 || known.length < used.length) return null
  const done = voc.answer({ components: known, basis })
  return done.ok ? done.value : null
}

/** The usual words for a category, beside the ids and names that the limits carry. */
const ALSO: Readonly<Record<string, string>> = {
  'special finishes': 'specialty',
  'special finish': 'specialty',
  'wash primer': 'wash-primer',
  'primer surfacer': 'primer',
  surfacer: 'primer',
  base: 'topcoat',
  clear: 'topcoat',
}
const OF_STAGE: Readonly<Record<string, string>> = {
  'adhesion-promoter': 'specialty',
  primer: 'primer',
  sealer: 'sealer',
  base: 'topcoat',
  midcoat: 'topcoat',
  clear: 'topcoat',
  'single-stage': 'topcoat',
}

/**
 * The limit that a sheet's product falls under.
 * @returns null where the sheet names a category that the jurisdiction does not have
 */
export function categoryOf(
  { vocCategory, stage }: Pick<Sheet, 'vocCategory' | 'stage'>,
  { limits }: Jurisdiction,
): string | null {
  const typed = vocCategory?.trim().toLowerCase()
  const wanted = typed ? (ALSO[typed] ?? typed) : OF_STAGE[stage]
  const has = (id: string | undefined) =>
    limits.find((limit) => limit.id === id || limit.category.toLowerCase() === id)?.id ?? null
  // The directive has no row for sealers: they are its primers.
  return has(wanted) ?? (wanted === 'sealer' ? has('primer') : null)
}
