import * as v from 'valibot'
import { fields, list, number, oneOf } from '../accept.ts'
import { calculator, crossChecked, sum, type Wrong } from './calculator.ts'
import { type PercentOf, percentOf, type Ratio, ratioParts, ratioSchema } from './ratio.ts'

export type By = 'volume' | 'mass'
/** What of one component belongs into the cup; grams are null where its density is not known. */
export type Target = { readonly ml: number; readonly g: number | null }

/** Solvents weigh 0.7, zinc primers 3; a value in kg/m3 or lb/gal is caught. */
export const densityGPerMl = number(0.2, 8, 'g/mL')
/** A thimble to half a drum; the least keeps every share a number a scale could know. */
export const cupMl = number(0.1, 100_000, 'mL')

/** Components that dissolve in each other are taken to keep their volumes: Σ parts/density. */
function massTargets(parts: readonly number[], totalMl: number, densities: readonly number[]) {
  const volumePerPart = sum(parts.map((part, i) => part / (densities[i] as number)))
  return parts.map((part, i) => {
    const g = (totalMl * part) / volumePerPart
    return { ml: g / (densities[i] as number), g }
  })
}

/**
 * How much of each component makes a total, in the order poured.
 *
 * @param parts the components' parts, at least one above zero
 * @param by whether the parts are volumes or masses
 * @param totalMl mL in the cup at the end; volumes are taken to add up
 * @param densities g/mL of each component, null or absent where unknown
 * @returns mL and g of each; g is null without its density
 * @throws RangeError for parts by mass with a density missing: their volume cannot be known
 */
export function pourTargets(
  parts: readonly number[],
  by: By,
  totalMl: number,
  densities: readonly (number | null | undefined)[] = [],
): Target[] {
  if (by === 'mass') {
    const known = parts.map((_, i) => densities[i]).filter((d) => typeof d === 'number')
    if (known.length < parts.length) {
      throw new RangeError('Parts by mass need the density of every component')
    }
    return massTargets(parts, totalMl, known)
  }
  const all = sum(parts)
  return parts.map((part, i) => {
    const ml = (totalMl * part) / all
    const density = densities[i]
    return { ml, g: typeof density === 'number' ? ml * density : null }
  })
}

/** Without the dust of binary fractions: 0.1 × 3 is 0.3 on a scale. */
const toStep = (g: number, stepG: number) => Number((Math.round(g / stepG) * stepG).toPrecision(12))

/**
 * What the scale shows after each component, the cup tared at the start. Rounding the running
 * reading, not each component, keeps the errors from adding up.
 */
export function runningReadings(grams: readonly number[], stepG?: number): number[] {
  let poured = 0
  return grams.map((g) => {
    poured += g
    return stepG === undefined ? poured : toStep(poured, stepG)
  })
}

/**
 * Error of a ratio as weighed, in per cent: the largest |actual/target − 1| of a component after
 * both are referred to the first, the base.
 * @param targetG g that belong in; the first above zero
 * @param weighedG g that went in; the first above zero
 */
export function ratioErrorPct(targetG: readonly number[], weighedG: readonly number[]): number {
  const shares = targetG.map((g, i) => (g === 0 ? null : (weighedG[i] as number) / g))
  const base = shares[0] as number
  return 100 * Math.max(...shares.map((s) => (s === null ? 0 : Math.abs(s / base - 1))))
}

export const pourFields = {
  ratio: ratioSchema,
  by: oneOf(['volume', 'mass']),
  totalMl: cupMl,
  densities: v.optional(list(densityGPerMl, 1, 18)),
  stepG: v.optional(number(0.001, 1000, 'g')),
  percentOf: v.optional(percentOf),
}

export type PourInput = {
  readonly ratio: Ratio
  readonly by: By
  readonly totalMl: number
  readonly densities?: readonly number[] | undefined
  readonly stepG?: number | undefined
  readonly percentOf?: PercentOf | undefined
}

export const partsOf = (input: PourInput) => ratioParts(input.ratio, input.percentOf)

export const densityCount = (count: number): Wrong => ({
  path: ['densities'],
  code: 'densities',
  params: { count },
})

/** Densities for every part or for none; a pour by mass needs them. */
export function densitiesFit(input: PourInput): Wrong | null {
  const count = partsOf(input).length
  const isMissing = input.densities === undefined
  if (isMissing ? input.by === 'mass' : input.densities?.length !== count)
    return densityCount(count)
  return null
}

/** A step so coarse that the base shows nothing leaves no ratio to judge. */
function stepShowsBase(input: PourInput): Wrong | null {
  const first = targetsOf(input)[0]?.g
  if (!first || input.stepG === undefined || input.stepG <= 2 * first) return null
  const most = Number((2 * first).toPrecision(6))
  return {
    path: ['stepG'],
    code: 'scaleStep',
    params: { mostG: most },
  }
}

export const targetsOf = (input: PourInput) =>
  pourTargets(partsOf(input), input.by, input.totalMl, input.densities)

function weighed(grams: readonly number[], stepG: number | undefined) {
  const readings = runningReadings(grams, stepG)
  const went = stepG === undefined ? grams : readings.map((r, i) => r - (readings[i - 1] ?? 0))
  return { readings, errorPct: ratioErrorPct(grams, went) }
}

/**
 * What of each component makes a cup. In: a ratio, mL, g/mL. Out: mL and g of each, the running
 * reading of the scale after it, and what the scale's step does to the ratio. Grams are null
 * without densities.
 */
export const pour = calculator({
  name: 'pour',
  schema: crossChecked(fields(pourFields), (input) => densitiesFit(input) ?? stepShowsBase(input)),
  about: {
    formula:
      'By volume: mL = total × part / Σ parts, g = mL × density. By mass: g = total × part / Σ (part / density), mL = g / density. scaleG = running sum of g, to the scale’s step; errorPct = largest |actual/target − 1| × 100, referred to the first part.',
    units:
      'mL, g, g/mL; errorPct in per cent; percentages of the sum before them unless percentOf is base',
    source: 'definition of a mixing ratio; common practice for the running reading, no source',
    caution:
      'Assumes that volumes add up. Use the ratio and densities of the maker’s sheet, and wear the protection it asks for.',
  },
  run: (input) => {
    const targets = targetsOf(input)
    const grams = targets.map((t) => t.g).filter((g) => g !== null)
    const scale = grams.length === targets.length ? weighed(grams, input.stepG) : null
    return {
      parts: targets.map((t, i) => ({ ...t, scaleG: scale?.readings[i] ?? null })),
      totalMl: input.totalMl,
      totalG: scale && sum(grams),
      errorPct: scale?.errorPct ?? null,
    }
  },
})
