import { ID_ALPHABET } from '../machines/accept.ts'
import { idDigest } from '../machines/digest.ts'
import { SEPARATOR, sealedShort } from './seal.ts'

/**
 * Codes of things that stay: the sheet of a job, a person's badge, a gun's tag, a shelf with a product. Their form
 * is in seal.ts.
 *
 *   J2K7FJ7K3MABCXX            a job
 *   W2K7F4Q8MZ2RTXX            a person, by eight signs that stand for the id: ids may be too long for a small code
 *   G2K7F4Q8MZ2RTXX            a gun
 *   S2K7F4Q8MZ2RTB-2231XX      a product, and behind it the lot that stands on the shelf
 *
 * Tags printed earlier hang where they are for good. They had the id itself in capitals, which is compared
 * without regard to case, and before it the number of its parts with a - between them:
 *
 *   J1-K7F-J7K3MABC-XX
 *   W1-K7F-2-AB-1-XX
 *   S1-K7F-2-CLEAR-FAST-B2231-XX
 *
 * A badge holds no name.
 */

const SCHEMAS = { job: 'J2', person: 'W2', gun: 'G2', product: 'S2' } as const
const OLD_SCHEMAS = { job: 'J1', person: 'W1', gun: 'G1', product: 'S1' } as const
export type CodedKind = keyof typeof SCHEMAS
const KINDS: readonly CodedKind[] = ['job', 'person', 'gun', 'product']
export const SHORT_THING_SCHEMAS: readonly string[] = Object.values(SCHEMAS)
/** With a - between their fields. */
export const LONG_THING_SCHEMAS: readonly string[] = Object.values(OLD_SCHEMAS)

export type ThingCode = {
  readonly kind: CodedKind
  readonly shopTag: string
  readonly id: string
  /** Null where the code names none. */
  readonly lot: string | null
}

/** What such a code says. */
export type ReadThing = Omit<ThingCode, 'lot'> & {
  /** As lotKey writes it. */
  readonly lot: string | null
  /** Its id is an idDigest; without it, the id in capitals. idLike finds the thing by either. */
  readonly isDigest?: true
}

/** A lot with the signs that a code has: capitals and digits, anything else as one -. */
export const lotKey = (lot: string): string =>
  lot
    .normalize('NFD')
    .toUpperCase()
    .replace(/\p{M}/gu, '')
    .replace(/[^A-Z0-9]+/g, SEPARATOR)
    .replace(/^-|-$/g, '')

const ID = /^[A-Z0-9-]{1,40}$/i
/** A job's id, or an idDigest. */
const ID8 = new RegExp(`^[${ID_ALPHABET}]{8}$`)
const TAG = new RegExp(`^[${ID_ALPHABET}]{3}$`)

/** @throws RangeError for an id or a shop's tag that no code can say */
export function encodeThingCode(code: ThingCode): string {
  const { kind, shopTag, id } = code
  if (!TAG.test(shopTag)) throw new RangeError(`shopTag: ${shopTag} won't work.`)
  if (!(kind === 'job' ? ID8 : ID).test(id)) throw new RangeError(`${kind}: ${id} won't work.`)
  if (kind === 'job') return sealedShort(SCHEMAS.job, shopTag, id)
  return sealedShort(SCHEMAS[kind], shopTag, idDigest(id), lotKey(code.lot ?? ''))
}

/** @returns null where a part is missing or cannot be; the checksum is for the caller */
export function thingOfCode(fields: readonly string[]): ReadThing | null {
  const [schema, shopTag = '', ...rest] = fields.slice(0, -1)
  if (!TAG.test(shopTag)) return null
  const kind = KINDS.find((one) => SCHEMAS[one] === schema)
  if (kind) return said(kind, shopTag, rest)
  const old = KINDS.find((one) => OLD_SCHEMAS[one] === schema)
  if (!old) return null
  // A job's fields are as they were.
  return old === 'job' ? said(old, shopTag, rest) : saidWithId(old, shopTag, rest)
}

function said(kind: CodedKind, shopTag: string, rest: readonly string[]): ReadThing | null {
  const [id = '', lot = null, ...others] = rest
  if (!ID8.test(id) || others.length > 0 || (lot !== null && kind !== 'product')) return null
  return { kind, shopTag, id, lot, ...(kind === 'job' ? {} : { isDigest: true }) }
}

function saidWithId(kind: CodedKind, shopTag: string, rest: readonly string[]): ReadThing | null {
  const [count = '', ...parts] = rest
  if (!/^[1-9][0-9]?$/.test(count) || parts.length < Number(count)) return null
  const id = parts.slice(0, Number(count)).join(SEPARATOR)
  const lot = parts.slice(Number(count)).join(SEPARATOR)
  if (!ID.test(id) || (lot !== '' && kind !== 'product')) return null
  return { kind, shopTag, id, lot: lot === '' ? null : lot }
}
