import * as v from 'valibot'

/**
 * Schemas for everything that comes from outside. Every schema's message is the phrase of what is
 * accepted, so that one function can say: the field, what was given, what is accepted.
 */

export type FieldError = { readonly field: string; readonly message: string }
export type Checked<T> =
  | { readonly ok: true; readonly value: T }
  | ({ readonly ok: false } & { readonly error: FieldError })

type AnySchema = v.GenericSchema<unknown, unknown>
type Entries = Record<string, AnySchema>

/** The accepted-phrase of a schema made here; empty for one that has none. */
export function acceptedBy(schema: unknown): string {
  const s = schema as { message?: unknown; wrapped?: unknown; accepted?: string }
  if (typeof s.accepted === 'string') return s.accepted
  if (typeof s.message === 'string') return s.message
  return s.wrapped ? acceptedBy(s.wrapped) : ''
}

/** An object with exactly these keys; optional ones are wrapped in v.optional. */
export function fields<const E extends Entries>(entries: E) {
  const keys = Object.keys(entries)
  return v.strictObject(entries, (issue) => {
    const key = issue.path?.at(-1)?.key
    const isMissing = issue.expected !== 'never' && typeof key === 'string' && key in entries
    if (isMissing && issue.input === undefined)
      return acceptedBy(entries[key as string]) || 'a value'
    if (issue.expected === 'never') return `only these fields: ${keys.join(', ')}`
    return `an object with ${keys.join(', ')}`
  })
}

/** A finite number from min to max, both included. `unit` is part of the sentence: "a number from 0 to 1". */
export function number(min: number, max: number, unit = '') {
  const accepted = `a number from ${min} to ${max}${unit ? ` ${unit}` : ''}`
  return v.pipe(
    v.number(accepted),
    v.finite(accepted),
    v.minValue(min, accepted),
    v.maxValue(max, accepted),
  )
}

/** A finite number above zero, up to max. */
export function above0(max: number, unit = '') {
  const accepted = `a number above 0, up to ${max}${unit ? ` ${unit}` : ''}`
  return v.pipe(
    v.number(accepted),
    v.finite(accepted),
    v.gtValue(0, accepted),
    v.maxValue(max, accepted),
  )
}

/** A whole number from min to max. */
export function whole(min: number, max: number, unit = '') {
  const accepted = `a whole number from ${min} to ${max}${unit ? ` ${unit}` : ''}`
  return v.pipe(
    v.number(accepted),
    v.safeInteger(accepted),
    v.minValue(min, accepted),
    v.maxValue(max, accepted),
  )
}

/** Text of 1 to max characters, without NUL and without half of a surrogate pair (RFC 8785 has no form for it). */
export function text(max: number) {
  const accepted = `text of 1 to ${max} characters, without NUL`
  return v.pipe(
    v.string(accepted),
    v.minLength(1, accepted),
    v.maxLength(max, accepted),
    v.check((s) => isPlain(s) && s.trim() !== '', accepted),
  )
}

const isPlain = (s: string) => !s.includes('\0') && !/\p{Cs}/u.test(s)

export const ID_ALPHABET = '23456789ABCDEFGHJKMNPQRSTVWXYZ'
const id8Accepted = `eight characters of ${ID_ALPHABET}`
/** Id of a job, panel or cup, as printed on a label and typed by hand. */
export const id8 = v.pipe(
  v.string(id8Accepted),
  v.regex(/^[23456789ABCDEFGHJKMNPQRSTVWXYZ]{8}$/, id8Accepted),
)

const hashAccepted = 'a SHA-256 in lower-case hex'
export const sha256Hex = v.pipe(v.string(hashAccepted), v.regex(/^[0-9a-f]{64}$/, hashAccepted))

const idAccepted = '1 to 40 characters of A-Z, a-z, 0-9 and -'
/** Id of everything else: commands, sheets, guns, zones, devices, people. */
export const id40 = v.pipe(v.string(idAccepted), v.regex(/^[A-Za-z0-9-]{1,40}$/, idAccepted))

/** One of a few words. */
export function oneOf<const W extends readonly string[]>(words: W) {
  return v.picklist(words, `one of ${words.join(', ')}`)
}

export const yesNo = v.boolean('true or false')

/** A list of min to max of the same. */
export function list<S extends AnySchema>(item: S, min: number, max: number) {
  const accepted = `a list of ${min} to ${max} items`
  return v.pipe(v.array(item, accepted), v.minLength(min, accepted), v.maxLength(max, accepted))
}

/** Air temperature in °C: a winter garage to the air of a bake. Narrow enough to catch typing errors. */
export const airC = number(-30, 120, '°C')
export const partC = number(-30, 200, '°C')
/** Relative humidity as a fraction. */
export const rh = number(0, 1, '(0.55 is 55 %)')
/** UTC milliseconds, 2020 to 2100: what a label's minutes since 2020 can hold, and no seconds by mistake. */
export const utcMs = whole(
  1_577_836_800_000,
  4_102_444_800_000,
  '(UTC milliseconds from 2020 to 2100)',
)

/** Given as JSON, cut short; NaN and infinities by name. */
export function shown(given: unknown): string {
  if (given === undefined) return 'nothing'
  if (typeof given === 'number') return String(given)
  const json = JSON.stringify(given) ?? String(given)
  return json.length > 60 ? `${json.slice(0, 57)}...` : json
}

/** The sentence for a field: what was given, what is accepted. */
export function fieldError(field: string, given: unknown, accepted: string): FieldError {
  return { field, message: `${field || 'the body'} was ${shown(given)}; accepted is ${accepted}.` }
}

/**
 * Parses a value from outside.
 * @param schema a schema made with the helpers above
 * @param input anything
 * @param under the path before the field's own, such as "data"
 * @returns the typed value, or the first field that is wrong with its sentence; it never throws
 */
export function check<T>(
  schema: v.GenericSchema<unknown, T>,
  input: unknown,
  under = '',
): Checked<T> {
  const result = v.safeParse(schema, input, { abortEarly: true })
  if (result.success) return { ok: true, value: result.output }
  const issue = result.issues[0]
  const path = issue.path?.map((item) => String(item.key)) ?? []
  const field = [...(under ? [under] : []), ...path].join('.')
  // Of a field too many the issue's input is its name, of a rule between fields the whole object:
  // the given value is in the path.
  const last = issue.path?.at(-1)
  const given = last === undefined ? issue.input : last.value
  return { ok: false, error: fieldError(field, given, issue.message) }
}
