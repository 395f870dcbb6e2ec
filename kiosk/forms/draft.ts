import type { Settings } from '../../machines/shop/settingsSchema.ts'
import {
  dusted,
  type Measure,
  parseMeasure,
  readNumber,
  typedMeasure,
  unitOf,
} from '../units/measure.ts'
import type { Draft, Field, Fields, Spec } from './spec.ts'

/** Between a stored value and the text in a form's fields, in the shop's units. Pure. */

type Units = Settings['units']
type Points = Extract<Spec, { kind: 'points' }>

/** The temperature that a maker's single figure is for. */
const USUAL_C = 20

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
const rowsIn = (draft: Draft | undefined): readonly Draft[] => (Array.isArray(draft) ? draft : [])

/** What points are as a draft: one of the words, or the rows; the rows stay while a word is picked. */
export function pointsIn(draft: Draft): {
  readonly word: string
  readonly points: readonly Draft[]
} {
  const { word, points } = isObject(draft) ? (draft as Readonly<Record<string, Draft>>) : {}
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

/** A stored value as a form shows it. */
export function written(spec: Spec, value: unknown, units: Units, optional = false): Draft {
  if (value === undefined) return blank(spec, optional)
  switch (spec.kind) {
    case 'text':
      return Array.isArray(value) ? value.join(', ') : String(value)
    case 'choice':
      return String(value)
    case 'yesNo':
      return value === true ? 'yes' : 'no'
    case 'number':
      return typeof value === 'number' ? typedMeasure(value, spec.measure, units) : ''
    case 'group': {
      const given = isObject(value) ? value : {}
      return mapped(spec.fields, (field, key) =>
        written(field.spec, given[key], units, field.optional),
      )
    }
    case 'list':
      return Array.isArray(value) ? value.map((item) => written(spec.item, item, units)) : []
    case 'points':
      return writtenPoints(spec, value, units)
    case 'maybe':
      return written(spec.of, value, units)
  }
}

function writtenPoints({ words, item }: Points, value: unknown, units: Units): Draft {
  const word = Object.keys(words).find((name) => words[name] === value) ?? ''
  const list = typeof value === 'number' ? [{ atC: USUAL_C, minutes: value }] : value
  return { word, points: Array.isArray(list) ? list.map((p) => written(item, p, units)) : [] }
}

/** Whether it is empty. */
function isEmpty(draft: Draft): boolean {
  if (typeof draft === 'string') return draft.trim() === ''
  return (Array.isArray(draft) ? draft : Object.values(draft)).every(isEmpty)
}

const isSame = (a: Draft, b: Draft): boolean => JSON.stringify(a) === JSON.stringify(b)
const isUntouched = (spec: Spec, draft: Draft, units: Units, original: unknown): boolean =>
  original !== undefined && isSame(written(spec, original, units), draft)

/**
 * What a form says, for the schema to check. Text that is not a number stays text, so that the schema's
 * sentence can show what was given.
 * @param original the value that the form was filled from: what was not touched stays as it is, with
 *   every digit
 */
export function read(spec: Spec, draft: Draft, units: Units, original?: unknown): unknown {
  if (isUntouched(spec, draft, units, original)) return original
  switch (spec.kind) {
    case 'text': {
      const text = String(draft).trim()
      if (text === '') return undefined
      // A ratio's parts are numbers: comma and point both mark their decimals, as everywhere.
      return spec.isRatio ? text.replaceAll(',', '.') : text
    }
    case 'choice':
      return draft === '' ? undefined : draft
    case 'yesNo':
      return draft === '' ? undefined : draft === 'yes'
    case 'number':
      if (typeof draft !== 'string' || draft.trim() === '') return undefined
      return parseMeasure(draft, spec.measure, units) ?? draft
    case 'group':
      return readGroup(spec.fields, draft, units, original)
    case 'list':
      return readRows(spec.item, rowsIn(draft), spec.least, units, original)
    case 'points':
      return readPoints(spec, draft, units, original)
    case 'maybe':
      return draft === '' ? undefined : read(spec.of, draft, units, original)
  }
}

function readGroup(fields: Fields, draft: Draft, units: Units, original: unknown): unknown {
  const given = isObject(draft) ? (draft as Readonly<Record<string, Draft>>) : {}
  const olds = isObject(original) ? original : {}
  const entries = Object.entries(fields).flatMap(([key, field]): [string, unknown][] => {
    const own = given[key] ?? blank(field.spec, field.optional)
    // What is of another shape than the form asks for stands there empty, and stays.
    const isLeftOut =
      field.optional &&
      field.spec.kind !== 'maybe' &&
      isEmpty(own) &&
      !isUntouched(field.spec, own, units, olds[key])
    const value = isLeftOut ? undefined : read(field.spec, own, units, olds[key])
    return value === undefined ? [] : [[key, value]]
  })
  return Object.fromEntries(entries)
}

/** Rows that were added and not filled in are left out, but for the fewest that are accepted. */
function readRows(
  item: Spec,
  rows: readonly Draft[],
  least: number,
  units: Units,
  original: unknown,
): unknown[] {
  const olds: readonly unknown[] = Array.isArray(original) ? original : []
  const count = Math.max(least, rows.findLastIndex((row) => !isEmpty(row)) + 1)
  // Rows move up when one is removed: each is compared with the one that it was.
  const was = (row: Draft, i: number) =>
    olds.find((old) => isSame(written(item, old, units), row)) ?? olds[i]
  return rows.slice(0, count).map((row, i) => read(item, row, units, was(row, i)))
}

function readPoints(spec: Points, draft: Draft, units: Units, original: unknown): unknown {
  const { word, points } = pointsIn(draft)
  if (word !== '' && word in spec.words) return spec.words[word]
  const olds = typeof original === 'number' ? [{ atC: USUAL_C, minutes: original }] : original
  return readRows(spec.item, points, 1, units, olds)
}

/** A draft with one place changed. @param path keys and indices from the top */
export function changed(draft: Draft, path: readonly (string | number)[], to: Draft): Draft {
  const [key, ...rest] = path
  if (key === undefined) return to
  if (Array.isArray(draft)) {
    return draft.map((item, i) => (i === Number(key) ? changed(item, rest, to) : item))
  }
  const at = isObject(draft) ? (draft as Readonly<Record<string, Draft>>) : {}
  return { ...at, [key]: changed(at[key] ?? '', rest, to) }
}

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
