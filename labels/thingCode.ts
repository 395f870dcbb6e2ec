import { ID_ALPHABET } from '../machines/accept.ts'
import { SEPARATOR, sealed, sealedShort } from './seal.ts'

/**
 * Codes of things that stay: the sheet of a job, a person's badge, a gun's tag, a shelf with a product.
 *
 *   J2K7FJ7K3MABCXX                 a job, its form in seal.ts
 *   W1-K7F-2-AB-1-XX                a person, whose id has so many parts with a - between them
 *   G1-K7F-1-G1-XX                  a gun
 *   S1-K7F-2-CLEAR-FAST-B2231-XX    a product, and behind its parts the lot that stands on the shelf
 *
 * Ids of people, guns and products may have small letters, which the code's signs lack: they are compared
 * without regard to case. A badge holds an id and no name.
 */

export const JOB_SCHEMA = 'J2'
const SCHEMAS = { job: JOB_SCHEMA, person: 'W1', gun: 'G1', product: 'S1' } as const
export type CodedKind = keyof typeof SCHEMAS
/** Of sheets printed earlier, J1-K7F-J7K3MABC-XX: they lie with their job for as long as that lasts. */
const OLD_JOB_SCHEMA = 'J1'
/** With a - between fields, all but the job's present one. */
export const LONG_THING_SCHEMAS = [OLD_JOB_SCHEMA, SCHEMAS.person, SCHEMAS.gun, SCHEMAS.product]
const KIND_OF = new Map<string, CodedKind>([
  [SCHEMAS.job, 'job'],
  [OLD_JOB_SCHEMA, 'job'],
  [SCHEMAS.person, 'person'],
  [SCHEMAS.gun, 'gun'],
  [SCHEMAS.product, 'product'],
])

export type ThingCode = {
  readonly kind: CodedKind
  readonly shopTag: string
  /** In capitals. */
  readonly id: string
  /** As lotKey writes it; null where the code names none. */
  readonly lot: string | null
}

/** A lot with the signs that a code has: capitals and digits, anything else as one -. */
export const lotKey = (lot: string): string =>
  lot
    .normalize('NFD')
    .toUpperCase()
    .replace(/\p{M}/gu, '')
    .replace(/[^A-Z0-9]+/g, SEPARATOR)
    .replace(/^-|-$/g, '')

const ID = /^[A-Z0-9-]{1,40}$/
const JOB = new RegExp(`^[${ID_ALPHABET}]{8}$`)
const TAG = new RegExp(`^[${ID_ALPHABET}]{3}$`)

/** @throws RangeError for an id or a shop's tag that no code can say */
export function encodeThingCode(code: ThingCode): string {
  const { kind, shopTag } = code
  const id = code.id.toUpperCase()
  if (!TAG.test(shopTag)) throw new RangeError(`shopTag: ${shopTag} won't work.`)
  if (!(kind === 'job' ? JOB : ID).test(id)) throw new RangeError(`${kind}: ${id} won't work.`)
  const lot = code.lot === null ? [] : [lotKey(code.lot)].filter((key) => key !== '')
  if (kind === 'job') return sealedShort(SCHEMAS.job, shopTag, id)
  return sealed([SCHEMAS[kind], shopTag, String(id.split(SEPARATOR).length), id, ...lot])
}

/** @returns null where a part is missing or cannot be; the checksum is for the caller */
export function thingOfCode(fields: readonly string[]): ThingCode | null {
  const [schema = '', shopTag = '', ...rest] = fields.slice(0, -1)
  const kind = KIND_OF.get(schema)
  if (!kind || !TAG.test(shopTag)) return null
  if (kind === 'job') {
    const [id = ''] = rest
    return rest.length === 1 && JOB.test(id) ? { kind, shopTag, id, lot: null } : null
  }
  const [count = '', ...parts] = rest
  if (!/^[1-9][0-9]?$/.test(count) || parts.length < Number(count)) return null
  const id = parts.slice(0, Number(count)).join(SEPARATOR)
  const lot = parts.slice(Number(count)).join(SEPARATOR)
  if (!ID.test(id) || (lot !== '' && kind !== 'product')) return null
  return { kind, shopTag, id, lot: lot === '' ? null : lot }
}
