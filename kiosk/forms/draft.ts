import type { Settings } from '../../machines/shop/settingsSchema.ts'
import {
  dusted,
  type Measure,
  nextStep,
  parseMeasure,
  readNumber,
  typedMeasure,
  type Unit,
  unitOf,
} from '../units/measure.ts'
import type { Draft, Field, Fields, NumberSpec, Spec } from './spec.ts'

/**
 * Between a stored value and a form's contents. Contents are the value as far as it is given, in SI,
 * so that a reload or another unit changes no digit; text stays where it means no number. Pure.
 */

type Units = Settings['units']
type Group = Readonly<Record<string, Draft>>

/** The temperature that a maker's single figure is for. */
const USUAL_C = 20

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
const isGroup = (draft: Draft | undefined): draft is Group => isObject(draft)
export const groupIn = (draft: Draft): Group => (isGroup(draft) ? draft : {})
export const rowsIn = (draft: Draft | undefined): readonly Draft[] =>
  Array.isArray(draft) ? draft : []

/** What points are as a draft: one of the words, or the rows; the rows stay while a word is picked. */
export function pointsIn(draft: Draft): {
  readonly word: string
  readonly points: readonly Draft[]
} {
  if (typeof draft === 'number') return { word: '', points: [{ minutes: draft, atC: USUAL_C }] }
  const { word, points } = groupIn(draft)
  return { word: typeof word === 'string' ? word : '', points: rowsIn(points) }
}

/** A form's contents with nothing in them: of what is required the fewest rows that are accepted. */
export function blank(spec: Spec, optional = false): Draft {
  switch (spec.kind) {
    case 'group':
      return mapped(spec.fields, (field) => blank(field.spec, field.optional))
    case 'list':
      return Array.from({ length: optional ? 0 : spec.least }, () => blank(spec.item))
    case 'points':
      return { word: '', points: optional ? [] : [blank(spec.item)] }
    default:
      return ''
  }
}

const mapped = (fields: Fields, of: (field: Field, key: string) => Draft): Draft =>
  Object.fromEntries(Object.entries(fields).map(([key, field]) => [key, of(field, key)]))

/** A stored value as a form's contents. What is of another shape than the form asks for stays as it is. */
export function written(spec: Spec, value: unknown, optional = false): Draft {
  if (value === undefined) return blank(spec, optional)
  switch (spec.kind) {
    case 'group':
      return isObject(value)
        ? mapped(spec.fields, (field, key) => written(field.spec, value[key], field.optional))
        : (value as Draft)
    case 'list':
      return rowsIn(value as Draft).map((item) => written(spec.item, item))
    case 'points': {
      const word = Object.keys(spec.words).find((name) => spec.words[name] === value)
      if (word === undefined && !Array.isArray(value)) return value as Draft
      return {
        word: word ?? '',
        points: rowsIn(value as Draft).map((point) => written(spec.item, point)),
      }
    }
    case 'maybe':
      return written(spec.of, value)
    default:
      return value as Draft
  }
}

/** Whether nothing is given. */
function isEmpty(draft: Draft): boolean {
  if (typeof draft === 'string') return draft.trim() === ''
  return typeof draft === 'object' && Object.values(draft).every(isEmpty)
}

/**
 * What a form says, for the schema to check. Text that means no number stays text, so that the
 * schema's sentence can show what was given.
 */
export function read(spec: Spec, draft: Draft): unknown {
  switch (spec.kind) {
    case 'text':
      if (typeof draft !== 'string') return draft
      // A ratio's parts are numbers: comma and point both mark their decimals, as everywhere.
      return given(spec.isRatio ? draft.trim().replaceAll(',', '.') : draft.trim())
    case 'group':
      // What is of another shape than the form asks for stands there empty, and stays.
      return typeof draft === 'string' && !isEmpty(draft) ? draft : readGroup(spec.fields, draft)
    case 'list':
      return readRows(spec.item, rowsIn(draft), spec.least)
    case 'points': {
      if (typeof draft === 'number') return draft
      const { word, points } = pointsIn(draft)
      return word in spec.words ? spec.words[word] : readRows(spec.item, points, 1)
    }
    case 'maybe':
      return draft === '' ? undefined : read(spec.of, draft)
    default:
      return given(draft)
  }
}

const given = (draft: Draft): Draft | undefined => (isEmpty(draft) ? undefined : draft)

function readGroup(fields: Fields, draft: Draft): unknown {
  const own = groupIn(draft)
  const entries = Object.entries(fields).flatMap(([key, { spec, optional }]) => {
    const at = own[key] ?? blank(spec, optional)
    const isLeftOut = optional && spec.kind !== 'maybe' && isEmpty(at)
    const value = isLeftOut ? undefined : read(spec, at)
    return value === undefined ? [] : [[key, value] as const]
  })
  return Object.fromEntries(entries)
}

/** Rows that were added and not filled in are left out, but for the fewest that are accepted. */
function readRows(item: Spec, rows: readonly Draft[], least: number): unknown[] {
  const count = Math.max(least, rows.findLastIndex((row) => !isEmpty(row)) + 1)
  return rows.slice(0, count).map((row) => read(item, row))
}

/** What is typed into a number's field, as contents: SI, or the text where it means no number. */
export const meantBy = (text: string, measure: Measure, units: Units): string | number =>
  text.trim() === '' ? '' : (parseMeasure(text, measure, units) ?? text)

/**
 * A number after a touch of a stepper, SI: the next whole step, and never below what is accepted. Where
 * zero is not, it stays at one step, or at what is less than that already.
 * @param si what counts now; null for nothing
 */
export function stepped(spec: NumberSpec, unit: Unit, si: number | null, by: 1 | -1): number {
  const step = spec.step === undefined || spec.step === 'unit' ? unit.step : spec.step
  const next = dusted(unit.toSi(nextStep(si === null ? 0 : unit.fromSi(si), step, by)))
  const least = spec.least > 0 ? Math.min(si ?? Number.MAX_VALUE, unit.toSi(step)) : spec.least
  return Math.max(least, next)
}

/** A field's contents as the text in it. */
export function shownIn(spec: Spec, draft: Draft, units: Units): string {
  if (spec.kind === 'number' && typeof draft === 'number')
    return typedMeasure(draft, spec.measure, units)
  return Array.isArray(draft) ? draft.join(', ') : isGroup(draft) ? '' : String(draft)
}

/** A draft with one place changed. @param path keys and indices from the top */
export function changed(draft: Draft, path: readonly (string | number)[], to: Draft): Draft {
  const [key, ...rest] = path
  if (key === undefined) return to
  if (Array.isArray(draft)) {
    return draft.map((item, i) => (i === Number(key) ? changed(item, rest, to) : item))
  }
  const at = groupIn(draft)
  return { ...at, [key]: changed(at[key] ?? '', rest, to) }
}

/** What a draft holds at a path that the schema names: "flashBetween.0.minutes". */
export const heldAt = (draft: Draft, path: string): Draft =>
  path.split('.').reduce<Draft>((at, key) => {
    const rows = Array.isArray(at) ? at : pointsIn(at).points
    return (/^\d+$/.test(key) ? rows[Number(key)] : groupIn(at)[key]) ?? ''
  }, draft)

/** An id from a name: its letters and digits, and a number where that is taken. */
export function idFrom(name: string, taken: readonly string[]): string {
  const plain = name
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 36)
  const base = plain === '' ? 'item' : plain
  if (!taken.includes(base)) return base
  let n = 2
  while (taken.includes(`${base}-${n}`)) n += 1
  return `${base}-${n}`
}

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
type Meant = { readonly unit: string; readonly typed: string; readonly stored: number }

/**
 * Asks back where what was typed lies outside what is plausible, and the same number in the other
 * unit lies within it: 25 as bar, 70 as °C. Common sense of a shop, no source.
 * @returns null when there is nothing to ask
 */
export function doubtOf(text: string, measure: Measure, units: Units): Meant | null {
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
