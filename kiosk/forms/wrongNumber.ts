import type { FieldError } from '../../machines/accept.ts'
import type { Unit } from '../units/measure.ts'

/**
 * The sentence for a refused field: what was typed, and what is accepted, in the shop's units and
 * language. Pure.
 */

/** A phrase of what is accepted, taken apart: its form, and the numbers in it. */
export type Phrase = { readonly form: PhraseForm; readonly parts: readonly string[] }

const unit = '(?: .*)?'
/** Phrases of machines/; the numbers of the first group are in the field's own SI unit. */
const FORMS = {
  from: new RegExp(`^a number from (\\S+) to (\\S+?)${unit}$`),
  above: new RegExp(`^a number above 0, up to (\\S+?)${unit}$`),
  whole: new RegExp(`^a whole number from (\\S+) to (\\S+?)${unit}$`),
  noLower: /^a number no lower than fromC, (\S+) °C$/,
  below: /^a pressure below cutOutKpa, (\S+) kPa$/,
  potLife: /^at most the pot life in this air, (\S+) min$/,
  oneOf: /^one of (.*)$/,
  text: /^text of 1 to (\d+) characters/,
  list: /^a list of (\d+) to (\d+) items$/,
  densities: /^(\d+) densities in g\/mL/,
  weights: /^at most (\d+) weights/,
  noneOfIt: /^0, for the ratio has none of it$/,
  shows: /^a number above 0, up to (\S+) g, so that the first part shows$/,
  ratio: /^a ratio such as/,
  points: /^one or more points, at least (\S+) °C apart/,
  tooSteep: /^points far enough apart/,
  notWithAfter: /^left out with kind notAfter/,
  eitherFilm: /^either wetUm or dryUm/,
  oneFilm: /^left out when wetUm is given/,
  exemptDensity: /^the density of the exempt solvent/,
  allVolatiles: /^all volatiles together/,
  room: /^a density at which water/,
  notAllWater: /^at least one that is not all water/,
  lab: /^three numbers: L\*/,
} as const
export type PhraseForm = keyof typeof FORMS

/** Forms whose numbers are in the unit of the field. */
const IN_UNIT: readonly PhraseForm[] = ['from', 'above', 'whole', 'noLower', 'below']
/** The most particular first: a step that shows is also a number above 0. */
const ORDER: readonly PhraseForm[] = ['shows', ...(Object.keys(FORMS) as PhraseForm[])]

/** @returns null for an unknown phrase: it is then shown unchanged */
export function phraseOf(accepted: string): Phrase | null {
  for (const form of ORDER) {
    const found = FORMS[form].exec(accepted)
    if (found) return { form, parts: found.slice(1) }
  }
  return null
}

export type Wording = {
  readonly wasTyped: (typed: string) => string
  readonly nothing: string
  readonly accepted: (phrase: string) => string
  readonly phrase: Readonly<Record<PhraseForm, (a: string, b: string, unit: string) => string>>
}

const ACCEPTED = /; accepted is (.*)\.$/s

/**
 * @param typed the text in the field
 * @param of the unit of the field
 * @param numberText how this language writes a number
 */
export function sentenceOf(
  error: FieldError,
  typed: string,
  of: Unit,
  wording: Wording,
  numberText: (value: number) => string,
): string {
  const accepted = ACCEPTED.exec(error.message)?.[1] ?? error.message
  const phrase = phraseOf(accepted)
  const shown = (part: string | undefined): string => {
    const value = Number(part)
    if (part === undefined || part === '' || !Number.isFinite(value)) return part ?? ''
    return numberText(phrase && IN_UNIT.includes(phrase.form) ? of.fromSi(value) : value)
  }
  const said = phrase
    ? wording.phrase[phrase.form](shown(phrase.parts[0]), shown(phrase.parts[1]), of.word).trim()
    : accepted
  const was = typed.trim() === '' ? wording.nothing : wording.wasTyped(typed.trim())
  return `${was} ${wording.accepted(said)}`
}
