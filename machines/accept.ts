import * as v from 'valibot'
import { broken, rule, ruleOf, type WrongFields, wrongFields } from './contract/wrongField.ts'

/**
 * Schemas for everything that comes from outside. Every schema's message carries the rule that was
 * broken, so that the edge can say in any language: the field, what was given, what is accepted.
 */

export type Checked<T> =
  | { readonly ok: true; readonly value: T }
  | ({ readonly ok: false } & WrongFields)

type AnySchema = v.GenericSchema<unknown, unknown>
type Entries = Record<string, AnySchema>

/** The rule that a schema made here is for; nothing for one that has none. */
function ruleIn(schema: unknown): string | undefined {
  const { message, wrapped } = schema as { message?: unknown; wrapped?: unknown }
  if (typeof message === 'string') return message
  return wrapped ? ruleIn(wrapped) : undefined
}

/** An object with exactly these keys; optional ones are wrapped in v.optional. */
export function fields<const E extends Entries>(entries: E) {
  const keys = Object.keys(entries)
  return v.strictObject(entries, (issue) => {
    const key = issue.path?.at(-1)?.key
    const isMissing = issue.expected !== 'never' && typeof key === 'string' && key in entries
    if (isMissing && issue.input === undefined)
      return ruleIn(entries[key as string]) ?? rule('value', {})
    if (issue.expected === 'never') return rule('onlyFields', { fields: keys })
    return rule('object', { fields: keys })
  })
}

/** A finite number from min to max, both included. `unit` names what it is in. */
export function number(min: number, max: number, unit = '') {
  const range = rule('number', { min, max, ...(unit ? { unit } : {}) })
  return v.pipe(v.number(range), v.finite(range), v.minValue(min, range), v.maxValue(max, range))
}

/** A finite number above zero, up to max. */
export function above0(max: number, unit = '') {
  const range = rule('above0', { max, ...(unit ? { unit } : {}) })
  return v.pipe(v.number(range), v.finite(range), v.gtValue(0, range), v.maxValue(max, range))
}

/** A whole number from min to max. */
export function whole(min: number, max: number, unit = '') {
  const range = rule('whole', { min, max, ...(unit ? { unit } : {}) })
  return v.pipe(
    v.number(range),
    v.safeInteger(range),
    v.minValue(min, range),
    v.maxValue(max, range),
  )
}

/** Text of 1 to max characters, without NUL and without half of a surrogate pair (RFC 8785 has no form for it). */
export function text(max: number) {
  const accepted = rule('text', { max })
  return v.pipe(
    v.string(accepted),
    v.minLength(1, accepted),
    v.maxLength(max, accepted),
    v.check(isPlain, rule('plainText', {})),
    v.check((s) => s.trim() !== '', accepted),
  )
}

const isPlain = (s: string) => !s.includes('\0') && !/\p{Cs}/u.test(s)

export const ID_ALPHABET = '23456789ABCDEFGHJKMNPQRSTVWXYZ'
const id8Rule = rule('id8', { alphabet: ID_ALPHABET })
/** Id of a job, panel or cup, as printed on a label and typed by hand. */
export const id8 = v.pipe(
  v.string(id8Rule),
  v.regex(/^[23456789ABCDEFGHJKMNPQRSTVWXYZ]{8}$/, id8Rule),
)

const hashRule = rule('sha256', {})
export const sha256Hex = v.pipe(v.string(hashRule), v.regex(/^[0-9a-f]{64}$/, hashRule))

const idRule = rule('id40', {})
/** Id of everything else: commands, sheets, guns, zones, devices, people. */
export const id40 = v.pipe(v.string(idRule), v.regex(/^[A-Za-z0-9-]{1,40}$/, idRule))

/** One of a few words. */
export function oneOf<const W extends readonly string[]>(words: W) {
  return v.picklist(words, rule('oneOf', { words }))
}

export const yesNo = v.boolean(rule('yesNo', {}))

/** A list of min to max of the same. */
export function list<S extends AnySchema>(item: S, min: number, max: number) {
  const accepted = rule('list', { min, max })
  return v.pipe(v.array(item, accepted), v.minLength(min, accepted), v.maxLength(max, accepted))
}

/** Air temperature in °C: a winter garage to the air of a bake. Narrow enough to catch typing errors. */
export const airC = number(-30, 120, '°C')
export const partC = number(-30, 200, '°C')
/** Relative humidity as a fraction. */
export const rh = number(0, 1, 'fraction')
/** The share of the time that a compressor may run. */
export const duty = number(0.01, 1, 'fraction')
/** UTC milliseconds, 2020 to 2100: what a label's minutes since 2020 can hold, and no seconds by mistake. */
const FROM_MS = 1_577_836_800_000
const TO_MS = 4_102_444_800_000
const timeRule = rule('utcMs', { min: FROM_MS, max: TO_MS })
export const utcMs = v.pipe(
  v.number(timeRule),
  v.safeInteger(timeRule),
  v.minValue(FROM_MS, timeRule),
  v.maxValue(TO_MS, timeRule),
)

/** An object or a list that is no more than that. */
export const anyObject = v.looseObject({}, rule('object', {}))

/** Of more values than this only the first wrong field is named: each one costs time and room. */
const VALUES_MOST = 5_000

function isLarge(input: unknown): boolean {
  const left = [input]
  for (let seen = 0; left.length > 0; seen += 1) {
    if (seen + left.length > VALUES_MOST) return true
    for (const value of valuesOf(left.pop())) left.push(value)
  }
  return false
}

/** Of a long list the first are enough to know that it is large. */
function valuesOf(value: unknown): readonly unknown[] {
  if (Array.isArray(value)) return value.slice(0, VALUES_MOST + 1)
  return typeof value === 'object' && value !== null ? Object.values(value) : []
}

/**
 * Parses a value from outside.
 * @param schema a schema made with the helpers above
 * @param input anything
 * @param under the path before the field's own, such as "data"
 * @returns the typed value, or every field that is wrong with the rule it broke; it never throws
 */
export function check<T>(
  schema: v.GenericSchema<unknown, T>,
  input: unknown,
  under = '',
): Checked<T> {
  const abortEarly = isLarge(input)
  const result = v.safeParse(schema, input, { abortPipeEarly: true, abortEarly })
  if (result.success) return { ok: true, value: result.output }
  const wrong = result.issues.map((issue) => {
    const path = issue.path?.map((item) => String(item.key)) ?? []
    const field = [...(under ? [under] : []), ...path].join('.')
    // Of a field too many the issue's input is its name, of a rule between fields the whole object:
    // the given value is in the path.
    const last = issue.path?.at(-1)
    return broken(field, last === undefined ? issue.input : last.value, ruleOf(issue.message))
  })
  const once = new Map(wrong.toReversed().map((one) => [one.field, one]))
  return { ok: false, ...wrongFields([...once.values()].toReversed()) }
}
