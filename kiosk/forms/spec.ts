import { ruleOf } from '../../machines/contract/wrongField.ts'
import { type Measure, measureOf } from '../units/measure.ts'

/**
 * What a form asks for, as data: derived from the schema of the command or calculation that it fills,
 * so that a form is drawn, filled from a stored value and read back by one description. Pure.
 */

export type NumberSpec = {
  readonly kind: 'number'
  readonly measure: Measure
  /** Written after a plain number. */
  readonly unit: string
  /** The least that is accepted, in SI; a hair above zero where zero is not. */
  readonly least: number
  /** Keys to step it with gloves on: what one touch adds, in the shown unit, or the unit's own step. */
  readonly step?: Step
}
type Step = number | 'unit'
export type Spec =
  | { readonly kind: 'text'; readonly isRatio: boolean }
  | NumberSpec
  | { readonly kind: 'choice'; readonly of: readonly string[] }
  | { readonly kind: 'yesNo' }
  | { readonly kind: 'group'; readonly fields: Fields }
  | { readonly kind: 'list'; readonly item: Spec; readonly least: number; readonly most: number }
  /** Minutes at temperatures, or one of a few words that stand for a value of their own. */
  | {
      readonly kind: 'points'
      readonly item: Spec
      readonly most: number
      readonly words: Readonly<Record<string, string | null>>
    }
  /** A group in which nothing is required: empty, it does not say whether it is meant. */
  | { readonly kind: 'maybe'; readonly of: Spec }

export type Field = {
  readonly spec: Spec
  /** Left out of the value when nothing is given. */
  readonly optional?: boolean
  /** Folded away: the form is of use without it. */
  readonly more?: boolean
}
export type Fields = Readonly<Record<string, Field>>

/**
 * A form's contents: a value as far as it is given, with empty text where nothing is. Plain JSON, so
 * that it can be kept.
 */
export type Draft = string | number | boolean | readonly Draft[] | { readonly [key: string]: Draft }

/** What a form is besides its schema. Paths are without indices: "components.water". */
type Shape = {
  /** What others fill, such as an id. */
  readonly without?: readonly string[]
  /** The only ones that are asked for. */
  readonly only?: readonly string[]
  readonly more?: readonly string[]
  /** What the schema would fill in by itself, but only a person may: empty is not zero. */
  readonly required?: readonly string[]
  /** Whether a group in which nothing is required is asked for first. */
  readonly asks?: boolean
  readonly steps?: Readonly<Record<string, Step>>
}

/** What is looked at of a schema; valibot keeps its parts as plain data. */
type Seen = {
  readonly type: string
  readonly message?: unknown
  readonly entries?: Readonly<Record<string, unknown>>
  readonly wrapped?: unknown
  readonly default?: unknown
  readonly item?: unknown
  readonly items?: readonly unknown[]
  readonly options?: readonly string[]
  readonly requirement?: unknown
  readonly pipe?: readonly Seen[]
  readonly getter?: (given: unknown) => unknown
}

/** The fields of a form that fills an object. @param schema made with `fields` of machines/accept.ts */
export const fieldsOf = (schema: unknown, shape: Shape = {}): Fields =>
  fieldsUnder(schema as Seen, shape, '')

/**
 * The description of anything that a schema of machines/accept.ts takes.
 * @throws RangeError for a kind of schema that no form has yet
 */
export function specOf(schema: unknown, shape: Shape = {}, path = ''): Spec {
  const seen = schema as Seen
  switch (seen.type) {
    case 'string':
      return { kind: 'text', isRatio: ruleIn(seen).code === 'ratio' }
    case 'number':
      return numberSpec(seen, shape, path)
    case 'boolean':
      return { kind: 'yesNo' }
    case 'picklist':
      return { kind: 'choice', of: seen.options ?? [] }
    case 'strict_object':
      return { kind: 'group', fields: fieldsUnder(seen, shape, path) }
    case 'array':
      return listSpec(seen, shape, path)
    case 'strict_tuple': {
      const count = seen.items?.length ?? 0
      return { kind: 'list', item: specOf(seen.items?.[0], shape, path), least: count, most: count }
    }
    case 'optional':
      return specOf(seen.wrapped, shape, path)
    case 'nullable':
      return withWords(specOf(seen.wrapped, shape, path), { noPotLife: null })
    case 'lazy':
      return eitherOf(seen, shape, path)
    default:
      throw new RangeError(`No form is known for a schema of type ${seen.type}.`)
  }
}

function fieldsUnder(seen: Seen, shape: Shape, path: string): Fields {
  const entries = Object.entries(seen.entries ?? {}).flatMap(([key, entry]): [string, Field][] => {
    const own = path === '' ? key : `${path}.${key}`
    const isAside = path === '' && shape.only?.includes(key) === false
    if (isAside || shape.without?.includes(own)) return []
    const { type, default: otherwise } = entry as Seen
    const optional = type === 'optional' && !shape.required?.includes(own)
    const spec = specOf(entry, shape, own)
    const isAsked = shape.asks && optional && otherwise === undefined && isAllOptional(spec)
    const field = {
      spec: isAsked ? ({ kind: 'maybe', of: spec } as const) : spec,
      optional,
      more: shape.more?.includes(own) ?? false,
    }
    return [[key, field]]
  })
  return Object.fromEntries(entries)
}

const isAllOptional = (spec: Spec): boolean =>
  spec.kind === 'group' && Object.values(spec.fields).every((field) => field.optional)

const ruleIn = ({ message }: Seen) => ruleOf(typeof message === 'string' ? message : '')

/** Of the shop's or the booth's air a figure of the other scale is asked about. */
const AIR = /(^|\.)(airC|surfaceC|fromC|toC|minC|maxC|nowC|warmestC)$/
/** They say what is counted, as the field's own word does. */
const COUNTED = ['coats', 'panels', 'parts', 'parts by volume', 'L*', 'a*, b*']

function numberSpec(seen: Seen, { steps }: Shape, path: string): NumberSpec {
  const rule = ruleIn(seen)
  const { unit = '', min } = rule.params as { unit?: string; min?: number }
  const measure = measureOf(unit)
  return {
    kind: 'number',
    measure: measure === 'temperature' && AIR.test(path) ? 'airTemperature' : measure,
    unit: COUNTED.includes(unit) ? '' : unit,
    least: rule.code === 'above0' ? Number.EPSILON : (min ?? 0),
    ...(steps?.[path] === undefined ? {} : { step: steps[path] }),
  }
}

function limit(seen: Seen, type: 'min_length' | 'max_length', otherwise: number): number {
  const found = seen.pipe?.find((step) => step.type === type)?.requirement
  if (typeof found === 'number') return found
  // A list with one more check carries its own limits one pipe deeper.
  const inner: Seen | undefined = seen.pipe?.[0]
  return inner?.pipe ? limit(inner, type, otherwise) : otherwise
}

function listSpec(seen: Seen, shape: Shape, path: string): Spec {
  const item = specOf(seen.item, shape, path)
  const most = limit(seen, 'max_length', 20)
  const { minutes, atC, ...others } = item.kind === 'group' ? item.fields : {}
  // Read aloud as "ten minutes at 20 °C".
  if (minutes && atC && Object.keys(others).length === 0)
    return { kind: 'points', item: { kind: 'group', fields: { minutes, atC } }, most, words: {} }
  return { kind: 'list', item, least: limit(seen, 'min_length', 0), most }
}

const withWords = (spec: Spec, words: Readonly<Record<string, string | null>>): Spec => {
  if (spec.kind !== 'points')
    throw new RangeError('No form is known for an absent value but of points.')
  return { ...spec, words: { ...spec.words, ...words } }
}

/**
 * A value of two shapes, the one of texts and another: points or a word; else the other is asked for,
 * and a list of texts as one text. What is not touched stays as it is, in either shape.
 */
function eitherOf(seen: Seen, shape: Shape, path: string): Spec {
  const word = specOf(seen.getter?.(''), shape, path)
  const other = specOf(seen.getter?.([]), shape, path)
  if (other.kind === 'points' && word.kind === 'choice')
    return withWords(other, Object.fromEntries(word.of.map((w) => [w, w])))
  return other.kind === 'list' ? word : other
}
