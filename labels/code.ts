import { ID_ALPHABET } from '../machines/accept.ts'
import type { LabelProblemCode } from '../machines/contract/labelProblem.ts'
import { SPRAYED, type SprayedStage } from '../machines/sheet/schema.ts'
import {
  bareCode,
  CUP_SCHEMA,
  type CupCode,
  EPOCH_MS,
  type HazardCode,
  MINUTE_MS,
  OLD_PANEL_SCHEMA,
  OTHER_STAGE,
  PANEL_SCHEMA,
  PICTOGRAM_NAMES,
  PICTOGRAMS,
  SIGNALS,
  STAGE_CODES,
  STOCK,
} from './payload.ts'
import { RATIO_ON_SHEET } from './ratio.ts'
import { isSealed, SEPARATOR, shortFields } from './seal.ts'
import {
  LONG_THING_SCHEMAS,
  type ReadThing,
  SHORT_THING_SCHEMAS,
  thingOfCode,
} from './thingCode.ts'

export { shopTag } from '../machines/digest.ts'
export {
  COMMAND_SCHEMA,
  encodeCommandCode,
  isPrintedCommand,
  PRINTED_COMMANDS,
  type PrintedCommand,
  readCommandCode,
} from './commandCode.ts'
export {
  bareCode,
  type CupCode,
  classCode,
  encodeCupCode,
  encodePanelCode,
  type HazardCode,
  PICTOGRAM_NAMES,
  type Pictogram,
  type Signal,
  STOCK,
} from './payload.ts'
export { ratioText } from './ratio.ts'
export { checksum, isSealed } from './seal.ts'
export { encodeThingCode, lotKey, type ReadThing, type ThingCode } from './thingCode.ts'

/** What a scanner or a hand typed, understood. The writing half is payload.ts. */

export type ReadCup = Omit<CupCode, 'stage' | 'hasActivator' | 'ratio'> & {
  readonly kind: 'cup'
  /** Null where it was too long for the code: it is on the sheet. */
  readonly ratio: string | null
  /** The class as printed, such as CL2, and what it means; null for one of a later version. */
  readonly class: string
  readonly stage: SprayedStage | 'other' | null
  readonly hasActivator: boolean | null
  /** Whole minutes until use-by, negative when past; null where there is no pot life. */
  readonly minutesLeft: number | null
  /** Past its use-by or its keep-until. */
  readonly isPast: boolean
}

export type ReadPanel = {
  readonly kind: 'panel'
  readonly shopTag: string
  readonly panel: string
}

export type ReadProblem = {
  readonly kind: 'problem'
  readonly code: LabelProblemCode
  /** What the sentence names, in its order. */
  readonly names: readonly string[]
  /** Of another shop's label: what could be read of it. */
  readonly says?: ReadCup | ReadPanel | ReadThing
  /** Of a label of another version: its fields unchanged, not interpreted. */
  readonly fields?: readonly string[]
}

/** A cup's or panel's id typed by hand, or the beginning of one. */
export type ReadTyped = { readonly kind: 'typed'; readonly prefix: string }
export type ReadResult = ReadCup | ReadPanel | ReadThing | ReadTyped | ReadProblem

export type ReadingDevice = {
  /** Server time as this device knows it, UTC ms. */
  readonly nowMs: number
  readonly shopTag: string
}

/** Without separators, and with them. */
const SHORT_SCHEMAS: ReadonlySet<string> = new Set([PANEL_SCHEMA, ...SHORT_THING_SCHEMAS])
const LONG_SCHEMAS: ReadonlySet<string> = new Set([
  CUP_SCHEMA,
  OLD_PANEL_SCHEMA,
  ...LONG_THING_SCHEMAS,
])
const CUP_FIELDS = 10
const PANEL_FIELDS = 4
const MAX_AHEAD_MS = 5 * MINUTE_MS
const MAX_AGE_DAYS = 30

const TYPED = new RegExp(`^[${ID_ALPHABET}]{2,8}$`)
const SEALED = /^[CPJWGS][0-9]{1,2}-/
/** No label is longer: what the largest QR of one holds. */
const LONGEST = 154
/** The signs of our labels, and a third sign repeated where separators would be. */
const SLIPPED = /^[cpjwgs][^\s](?<sign>[^a-z0-9\s-])(?:.*\k<sign>){2}/iu
/** A code without separators, with another sign for the digit of its schema: a French layout has digits with Shift alone. */
const SHORT_SLIPPED = /^[pjwgs](?<sign>[^a-z0-9\s-])[^\s-]{11}\S*[^\s-]{2}$/iu
/** The digit of its schemas. */
const SHORT_DIGIT = PANEL_SCHEMA.slice(1)

const problem = (code: LabelProblemCode, ...names: readonly string[]): ReadProblem => ({
  kind: 'problem',
  code,
  names,
})

/**
 * Understands what a scanner sent or a hand typed.
 *
 * A label is accepted only when its checksum is right and its times are possible: not more than
 * 5 min ahead, not older than 30 days unless it carries a keep-until, which then reads as past.
 * Nothing is ever guessed or repaired.
 * @param text as it came; case and outer spaces do not matter
 * @returns the cup, the panel, the beginning of a typed id, or a problem
 */
export function readCode(text: string, device: ReadingDevice): ReadResult {
  const raw = bareCode(text.trim())
  if (raw === '') return problem('empty')
  const slip = SLIPPED.exec(raw)?.groups?.sign
  if (slip) return problem('keyboardLayout', slip, SEPARATOR)
  const noDigit = SHORT_SLIPPED.exec(raw)?.groups?.sign
  if (noDigit) return problem('keyboardLayout', noDigit, SHORT_DIGIT)
  const upper = raw.toUpperCase()
  const short = shortFields(upper)
  if (short && upper.length <= LONGEST && isOurs(short, upper))
    return readLabel(upper, short, device)
  if (SEALED.test(upper) && upper.length <= LONGEST)
    return readLabel(upper, upper.split(SEPARATOR), device)
  return readTyped(upper.replace(/\s/g, ''))
}

function readTyped(typed: string): ReadResult {
  if (TYPED.test(typed)) return { kind: 'typed', prefix: typed }
  if (/^[A-Z0-9]{2,8}$/.test(typed)) {
    const wrong = [...typed].find((sign) => !ID_ALPHABET.includes(sign))
    return problem('notInAlphabet', String(wrong), ID_ALPHABET)
  }
  return problem('notOurs')
}

/** One of a later version only with its checksum: without separators, codes of others look the same. */
const isOurs = ([schema = '']: readonly string[], text: string): boolean =>
  SHORT_SCHEMAS.has(schema) || (/^[CPJWGS]/.test(schema) && isSealed(text))

function readLabel(text: string, fields: readonly string[], device: ReadingDevice): ReadResult {
  const schema = fields[0] ?? ''
  const known = shortFields(text) ? SHORT_SCHEMAS : LONG_SCHEMAS
  if (!known.has(schema)) {
    const reads = fields.slice(1).join(' ')
    return { ...problem('unknownSchema', schema, reads), fields }
  }
  if (!isSealed(text)) return problem('checksum')
  const said = saidBy(schema, fields, device.nowMs)
  if (!said) return problem('garbled')
  return judged(said, device)
}

function saidBy(schema: string, fields: readonly string[], nowMs: number) {
  if (schema === CUP_SCHEMA) return cupOf(fields, nowMs)
  return schema === PANEL_SCHEMA || schema === OLD_PANEL_SCHEMA
    ? panelOf(fields)
    : thingOfCode(fields)
}

function panelOf(fields: readonly string[]): ReadPanel | null {
  const [, shopTag = '', panel = ''] = fields
  const isRight = fields.length === PANEL_FIELDS && isTag(shopTag) && isId(panel)
  return isRight ? { kind: 'panel', shopTag, panel } : null
}

const isTag = (tag: string) => tag.length === 3 && TYPED.test(tag)
const isId = (id: string) => id.length === 8 && TYPED.test(id)

const RATIO = /^[0-9.]+(?:X[0-9.]+)*(?:\+[0-9.]+%)*(?<mass>M?)$/
const POT = /^(?:0K(?<keep>[0-9A-Z]{0,7})|(?<minutes>[0-9]{1,7}))$/
const HAZARD = /^[0-3][01]2?7?8?$/

function cupOf(fields: readonly string[], nowMs: number): ReadCup | null {
  const [, shopTag = '', cup = '', job = '', code = '', ratio = '', mixed = '', pot = ''] = fields
  const hazard = fields[8] ?? ''
  const ends = POT.exec(pot)?.groups
  const isMass = RATIO.exec(ratio)?.groups?.mass
  const isRight =
    fields.length === CUP_FIELDS &&
    isTag(shopTag) &&
    isId(cup) &&
    (job === STOCK || isId(job)) &&
    /^[A-Z0-9]{2,4}$/.test(code) &&
    /^[0-9A-Z]{1,7}$/.test(mixed) &&
    HAZARD.test(hazard)
  if (!isRight || !ends || isMass === undefined) return null
  const mixedAtMs = msOf(mixed)
  const useByMs = ends.minutes ? mixedAtMs + Number(ends.minutes) * MINUTE_MS : null
  const keepUntilMs = ends.keep ? msOf(ends.keep) : null
  return {
    kind: 'cup',
    shopTag,
    cup,
    job: job === STOCK ? null : job,
    class: code,
    ...readClass(code),
    ratio: ratioSaid(ratio.replace(/M$/, '')),
    by: isMass ? 'mass' : 'volume',
    mixedAtMs,
    useByMs,
    keepUntilMs,
    hazard: readHazard(hazard),
    minutesLeft: useByMs === null ? null : Math.floor((useByMs - nowMs) / MINUTE_MS),
    isPast: nowMs >= (useByMs ?? keepUntilMs ?? Number.POSITIVE_INFINITY),
  }
}

const ratioSaid = (code: string) => (code === RATIO_ON_SHEET ? null : code.replaceAll('X', ':'))

const msOf = (digits: string) => EPOCH_MS + Number.parseInt(digits, 36) * MINUTE_MS

function readClass(code: string): Pick<ReadCup, 'stage' | 'hasActivator'> {
  const letters = code.slice(0, 2)
  const stage = SPRAYED.find((s) => STAGE_CODES[s] === letters)
  const known = stage ?? (letters === OTHER_STAGE ? 'other' : null)
  if (!known || !/^..[12]$/.test(code)) return { stage: null, hasActivator: null }
  return { stage: known, hasActivator: code[2] === '2' }
}

function readHazard(digits: string): HazardCode {
  return {
    signal: SIGNALS[Number(digits[0])] ?? 'missing',
    isocyanate: digits[1] === '1',
    pictograms: PICTOGRAM_NAMES.filter((name) => digits.slice(2).includes(PICTOGRAMS[name])),
  }
}

/** What a rightly read label may still be: another shop's, or of an impossible time. */
function judged(said: ReadCup | ReadPanel | ReadThing, device: ReadingDevice): ReadResult {
  if (said.shopTag !== device.shopTag) {
    return { ...problem('otherShop', said.shopTag, device.shopTag), says: said }
  }
  if (said.kind !== 'cup') return said
  const aheadMin = Math.ceil((said.mixedAtMs - device.nowMs) / MINUTE_MS)
  if (said.mixedAtMs - device.nowMs > MAX_AHEAD_MS) {
    return problem('mixedInFuture', String(aheadMin))
  }
  const ageDays = Math.floor((device.nowMs - said.mixedAtMs) / (24 * 60 * MINUTE_MS))
  if (
    said.keepUntilMs === null &&
    device.nowMs - said.mixedAtMs > MAX_AGE_DAYS * 24 * 60 * MINUTE_MS
  ) {
    return problem('tooOld', String(ageDays), String(MAX_AGE_DAYS))
  }
  return said
}
