import type { Settings } from '../../machines/shop/settingsSchema.ts'

/**
 * Numbers as a person types them, in the shop's units, to storage's SI and back. Pure. What is
 * typed may have a decimal comma; a number that could be meant in another way is not guessed at.
 */

/** What a number measures: which unit it is typed in. */
export type Measure =
  | 'airTemperature'
  | 'partTemperature'
  | 'temperatureDifference'
  | 'pressure'
  | 'volume'
  | 'humidity'
  | 'fraction'
  | 'plain'

type Units = Settings['units']

type Unit = {
  readonly name: string
  readonly toStored: (typed: number) => number
  readonly toTyped: (stored: number) => number
  /** Decimals that are written into a form. */
  readonly digits: number
}

export const F_PER_C = 1.8
export const F_AT_0C = 32
export const ML_PER_FL_OZ = 29.5735
export const KPA_PER_BAR = 100
/** 1 bar is 14.5038 psi. */
export const KPA_PER_PSI = 100 / 14.5038

const scaled = (name: string, factor: number, digits: number): Unit => ({
  name,
  toStored: (typed) => typed * factor,
  toTyped: (stored) => stored / factor,
  digits,
})

const CELSIUS = scaled('°C', 1, 1)
const FAHRENHEIT: Unit = {
  name: '°F',
  toStored: (f) => (f - F_AT_0C) / F_PER_C,
  toTyped: (c) => c * F_PER_C + F_AT_0C,
  digits: 1,
}
/** A difference of temperatures: no 32 is added. */
const DEGREES_C = scaled('°C', 1, 1)
const DEGREES_F = scaled('°F', 1 / F_PER_C, 1)
const BAR = scaled('bar', KPA_PER_BAR, 2)
const PSI = scaled('psi', KPA_PER_PSI, 1)
const ML = scaled('mL', 1, 1)
const FL_OZ = scaled('fl oz', ML_PER_FL_OZ, 2)
const PERCENT = scaled('%', 0.01, 2)
const PLAIN = scaled('', 1, 6)

/** The unit that a shop types a measure in. */
export function unitOf(measure: Measure, units: Units): Unit {
  switch (measure) {
    case 'airTemperature':
    case 'partTemperature':
      return units?.temperature === 'F' ? FAHRENHEIT : CELSIUS
    case 'temperatureDifference':
      return units?.temperature === 'F' ? DEGREES_F : DEGREES_C
    case 'pressure':
      return units?.pressure === 'psi' ? PSI : BAR
    case 'volume':
      return units?.volume === 'flOz' ? FL_OZ : ML
    case 'humidity':
    case 'fraction':
      return PERCENT
    case 'plain':
      return PLAIN
  }
}

/**
 * A number as typed: digits with at most one comma or point.
 * @returns null for anything else, also for 1,500.5: one of its marks would have to be guessed at
 */
export function parseNumber(text: string): number | null {
  const plain = text.trim().replace('−', '-')
  if (!/^-?(\d+([.,]\d*)?|[.,]\d+)$/.test(plain)) return null
  return Number(plain.replace(',', '.'))
}

/** More figures than any instrument has: what a conversion leaves behind them is noise. */
const clean = (value: number): number => Number(value.toPrecision(12))

/** What was typed in the shop's unit, converted to the stored one. Null when it is not a number. */
export function parseMeasure(text: string, measure: Measure, units: Units): number | null {
  const typed = parseNumber(text)
  return typed === null ? null : clean(unitOf(measure, units).toStored(typed))
}

/** A stored value as it is written into a form: no unit, no needless zeros, the language's comma. */
export function typedMeasure(
  stored: number,
  measure: Measure,
  units: Units,
  comma: '.' | ',' = '.',
): string {
  const unit = unitOf(measure, units)
  const text = String(Number(unit.toTyped(stored).toFixed(unit.digits)))
  return text.replace('.', comma)
}

/** The range outside which a typed value was most likely meant in the other unit. */
type Plausible = { readonly measure: Measure; readonly from: number; readonly to: number }
const PLAUSIBLE: readonly Plausible[] = [
  // A shop's air, and a gun's inlet: a garage in winter to a hot booth, an airbrush to a pressure pot.
  { measure: 'airTemperature', from: -5, to: 45 },
  { measure: 'pressure', from: 50, to: 1_000 },
]

const OTHER: Record<string, { readonly unit: Unit; readonly units: NonNullable<Units> }> = {
  '°C': { unit: FAHRENHEIT, units: { temperature: 'F' } },
  '°F': { unit: CELSIUS, units: { temperature: 'C' } },
  bar: { unit: PSI, units: { pressure: 'psi' } },
  psi: { unit: BAR, units: { pressure: 'bar' } },
}

/** A question back: was the other unit meant? */
export type Doubt = { readonly unit: string; readonly typed: string; readonly stored: number }

/**
 * Asks back where what was typed lies outside what is plausible, and the same number in the other
 * unit lies within it: 25 as bar, 70 as °C. Common sense of a shop, no source.
 * @returns null when there is nothing to ask
 */
export function doubtOf(text: string, measure: Measure, units: Units): Doubt | null {
  const range = PLAUSIBLE.find((p) => p.measure === measure)
  const typed = parseNumber(text)
  if (!range || typed === null) return null
  const isWithin = (stored: number) => stored >= range.from && stored <= range.to
  const own = unitOf(measure, units)
  const other = OTHER[own.name]
  if (!other || isWithin(own.toStored(typed))) return null
  const stored = clean(other.unit.toStored(typed))
  if (!isWithin(stored)) return null
  return { unit: other.unit.name, typed: typedMeasure(stored, measure, units), stored }
}
