/**
 * What can be wrong with a field that came from outside: the rule that it broke, as a code with
 * parameters. Sentences are made from it at the edge, in the asked language.
 */

/** The rules, each with what its sentence has to say. Numbers are in the unit named, or in the field's own. */
export type RuleParams = {
  /** It has to be there. */
  value: object
  object: { fields?: readonly string[] }
  onlyFields: { fields: readonly string[] }
  number: { min: number; max: number; unit?: string }
  above0: { max: number; unit?: string }
  whole: { min: number; max: number; unit?: string }
  utcMs: { min: number; max: number }
  text: { max: number }
  plainText: object
  id8: { alphabet: string }
  id40: object
  oneOf: { words: readonly string[] }
  yesNo: object
  list: { min: number; max: number }
  /** Of commands: nothing of it was decided. */
  listTooLong: { most: number; count: number }
  noneTwice: object
  sha256: object
  entryOrCommand: object
  timeOfDay: object
  timeZone: object
  moreThanFirst: object
  notBelowFirst: object
  signedOff: { aboveDb: number }
  points: { apartC: number }
  potLife: object
  recoat: object
  coatsInOrder: object
  somePart: object
  noLowerThan: { field: string; atC: number }
  nameOnce: { list: string }
  volatiles: object
  stageOfSheet: { stage: string; sheet: string }
  wholeFace: object
  partWhileBaking: object
  wetFilm: object
  stageOrSheet: object
  workOfPrep: object
  beforeFinish: object
  notAhead: { nowMs: number }
  notAfterEntry: { enteredAtMs: number }
  lateReason: { minutes: number }
  lateLead: { hours: number }
  newestProtocol: { protocol: number }
  ratio: object
  densities: { count: number }
  weights: { most: number }
  noneOfIt: object
  scaleStep: { mostG: number }
  belowCutOut: { kPa: number; hoseDropKpa?: number }
  withinPotLife: { minutes: number }
  oneFilm: object
  filmAlone: object
  exemptDensity: object
  roomForWater: object
  notAllWater: object
  notWithAfter: object
  lab: object
  /** A panel that the body does not have. */
  panelOfBody: { body: string; panels: readonly string[] }
  besidePanel: { panel: string; panels: readonly string[] }
  json: object
  utf8: object
  host: { names: readonly string[] }
  depth: { most: number }
  bodySize: { bytes: number }
  hasText: object
  picture: object
  pictureSize: { bytes: number }
  fileName: { forms: readonly string[] }
  path: object
  printerAddress: object
  siteAddress: object
  fingerprint: object
  longerId: { ids: readonly string[] }
  label: object
}

export type RuleCode = keyof RuleParams
export type Rule = {
  [C in RuleCode]: { readonly code: C; readonly params: Readonly<RuleParams[C]> }
}[RuleCode]

/** A field that broke a rule. `given` is what stood there as JSON, cut short; absent where nothing did. */
export type WrongField = {
  [C in RuleCode]: {
    readonly code: C
    readonly field: string
    readonly params: Readonly<RuleParams[C]> & { readonly given?: string }
  }
}[RuleCode]

/** Every field that is wrong, and the first of them by itself for clients that show only one. */
export type WrongFields = {
  readonly error: WrongField
  readonly errors: readonly WrongField[]
}

/** Given as JSON, cut short; NaN and infinities by name. */
export function shown(given: unknown): string | undefined {
  if (given === undefined) return undefined
  if (typeof given === 'number') return String(given)
  const json = jsonOf(given)
  return json.length > 60 ? `${json.slice(0, 57)}...` : json
}

/** What is shown ends before this depth; deeper still, JSON has no text that the program can make. */
const SHOWN_DEPTH = 60

function jsonOf(given: unknown): string {
  if (!isNestedAtMost(given, SHOWN_DEPTH)) return Array.isArray(given) ? '[...]' : '{...}'
  return JSON.stringify(given) ?? String(given)
}

/** Whether lists and objects are nested at most so deep. */
export function isNestedAtMost(value: unknown, depth: number): boolean {
  if (typeof value !== 'object' || value === null) return true
  return depth > 0 && Object.values(value).every((inner) => isNestedAtMost(inner, depth - 1))
}

/** What is wrong with one field. */
export function wrongAt<C extends RuleCode>(
  field: string,
  given: unknown,
  code: C,
  params: RuleParams[C],
): WrongFields {
  return wrongFields([broken(field, given, { code, params } as Rule)])
}

/** A field with the rule that it broke. */
export function broken(field: string, given: unknown, { code, params }: Rule): WrongField {
  const text = shown(given)
  return {
    code,
    field,
    params: text === undefined ? params : { ...params, given: text },
  } as WrongField
}

/** @param errors at least one */
export const wrongFields = (errors: readonly WrongField[]): WrongFields => ({
  error: errors[0] as WrongField,
  errors,
})

/**
 * A rule as a schema carries it: messages of schemas are texts, so that the rule travels in one.
 * @returns what `ruleOf` reads
 */
export const rule = <C extends RuleCode>(code: C, params: RuleParams[C]): string =>
  JSON.stringify({ code, params })

/** The rule that a schema's message carries; a library's own message says only that a value is wanted. */
export function ruleOf(message: string): Rule {
  try {
    const { code, params } = JSON.parse(message) as Rule
    return { code, params } as Rule
  } catch {
    return { code: 'value', params: {} }
  }
}
