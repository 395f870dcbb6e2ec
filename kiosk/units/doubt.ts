import type { Settings } from '../../machines/shop/settingsSchema.ts'
import { dusted, type Measure, readNumber, typedMeasure, unitOf } from './measure.ts'

type Units = Settings['units']

/** The range outside which a typed value was most likely meant in the other unit. */
type Plausible = { readonly measure: Measure; readonly from: number; readonly to: number }
const PLAUSIBLE: readonly Plausible[] = [
  // A shop's air, and a gun's inlet: a garage in winter to a hot booth, an airbrush to a pressure pot.
  { measure: 'airTemperature', from: -5, to: 45 },
  { measure: 'pressure', from: 20, to: 1_000 },
]

/** The other unit of each that a shop chooses between. */
const OTHER: Readonly<Record<string, NonNullable<Units>>> = {
  '°C': { temperature: 'F' },
  '°F': { temperature: 'C' },
  bar: { pressure: 'psi' },
  psi: { pressure: 'bar' },
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
  const typed = readNumber(text)
  if (!range || typed === null) return null
  const isWithin = (stored: number) => stored >= range.from && stored <= range.to
  const own = unitOf(measure, units)
  const chosen = OTHER[own.word]
  if (!chosen || isWithin(own.toSi(typed))) return null
  const other = unitOf(measure, chosen)
  const stored = dusted(other.toSi(typed))
  if (!isWithin(stored)) return null
  return { unit: other.word, typed: typedMeasure(stored, measure, units), stored }
}
