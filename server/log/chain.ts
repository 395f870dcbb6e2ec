import { type Damage, damage } from '../../machines/contract/damage.ts'
import type { Command, Entry, Json } from '../../machines/envelope.ts'
import { canonicalText, keepWritten, sha256, writtenOf } from './canonical.ts'
import { type Head, LogError, REPORT, type Row, type Unsealed } from './log.ts'

/**
 * The chain: text = the entry without `hash` by RFC 8785, digest = SHA-256(text),
 * hash = SHA-256(previous hash + digest), all lower-case hex. The digest stands between so that an
 * export may carry other entries as digests only and can still be checked.
 */
export const link = (previousHash: string, digest: string): string => sha256(previousHash + digest)

/** The head of a shop without entries. */
export const emptyHead = (shop: string): Head => ({
  position: 0,
  hash: sha256(shop),
  recordedAt: 0,
})

/**
 * Gives an entry its hash.
 * @param previousHash the hash of the entry in front of it; of the first, emptyHead(shop).hash
 * @throws LogError `program` for an entry of another shop or one without an RFC 8785 text
 */
export function seal(shop: string, previousHash: string, entry: Unsealed): Entry {
  if (entry.shop !== shop) throw fault(shop, `Entry ${entry.id} is of shop ${entry.shop}.`)
  try {
    const own = writtenOf(entry)
    return keepWritten({ ...entry, hash: link(previousHash, own.digest) }, own)
  } catch (cause) {
    throw fault(shop, `Entry ${entry.id} cannot be written as text.`, cause)
  }
}

const fault = (shop: string, what: string, cause?: unknown) =>
  new LogError({ op: 'seal', shop }, 'program', what, REPORT, cause)

/**
 * SHA-256 of a command's RFC 8785 text: the same command sent again has the same.
 * @throws TypeError as canonicalText
 */
export const commandDigest = (command: Command): string => sha256(canonicalText(command))

/**
 * `position` is the first at which the log is not as it was written; `id` where one can still be
 * read.
 */
export type Verdict =
  | { readonly ok: true; readonly head: Head }
  | {
      readonly ok: false
      readonly position: number
      readonly id: string | null
      readonly damage: Damage
    }

/** What is found of a whole log: of the first shop or picture that is not as it was written, else of the last shop. */
export type LogVerdict =
  | {
      readonly ok: true
      readonly shop: string | null
      readonly head: number
      readonly count: number
      /** Of the last entry: to compare with one that is known from elsewhere. */
      readonly hash: string | null
      /** What is lost although the log is whole; without it, nothing. */
      readonly warnings?: readonly LogWarning[]
    }
  | {
      readonly ok: false
      readonly shop: string | null
      readonly position: number
      readonly id: string | null
      readonly damage: Damage
    }

/** An entry names a picture that is not there: the log itself is whole. */
export type LogWarning = {
  readonly code: 'photoMissing'
  readonly shop: string
  readonly position: number
  readonly id: string
  readonly photo: string
  readonly damage: Damage
  /** Where the pictures lie. */
  readonly folder: string
}

/**
 * Walks a shop's rows from the first and names the first bad entry. An edit that was hashed again
 * shows at the entry behind it. What a chain cannot show by itself: entries cut off at its end, and
 * a log rewritten from some entry to the end; for those, compare the head with one that is known
 * from elsewhere.
 * @param rows in order of position, from the first one behind `from`
 * @param from where they follow; without it they are from the first on
 */
export async function verify(
  shop: string,
  rows: Iterable<Row> | AsyncIterable<Row>,
  from: Head = emptyHead(shop),
): Promise<Verdict> {
  let head = from
  for await (const row of rows) {
    const position = head.position + 1
    if (row.position !== position) {
      const gap = damage('gap', { came: row.position })
      return { ok: false, position, id: null, damage: gap }
    }
    const found = wrongWith(shop, head, row)
    if (found !== null) return { ok: false, position, id: readableId(row), damage: found }
    head = { position, hash: row.hash, recordedAt: row.columns.recordedAt }
  }
  return { ok: true, head }
}

/** What is wrong with a row that follows `head`; null if nothing is. */
function wrongWith(shop: string, head: Head, row: Row): Damage | null {
  if (row.hash !== link(head.hash, sha256(row.text))) return damage('hash', {})
  const said = objectOf(row.text)
  if (said === null) return damage('notJson', {})
  if (!isCanonical(said, row.text)) return damage('notCanonical', {})
  if (said.shop !== shop) return damage('otherShop', { said: written(said.shop) })
  if (said.position !== row.position)
    return damage('otherPosition', { said: written(said.position) })
  for (const [column, value] of Object.entries(row.columns)) {
    const inText = said[column] ?? null
    if (value !== inText)
      return damage('otherColumn', { column, has: written(value), said: written(inText) })
  }
  return row.columns.recordedAt < head.recordedAt ? damage('recordedBefore', {}) : null
}

const written = (value: Json | undefined): string => JSON.stringify(value) ?? 'undefined'

type JsonObject = { readonly [key: string]: Json }

function objectOf(text: string): JsonObject | null {
  try {
    const value: JsonObject | null = JSON.parse(text)
    return typeof value === 'object' && !Array.isArray(value) ? value : null
  } catch {
    return null
  }
}

/** A text may parse to what has no RFC 8785 text at all, such as 1e999. */
function isCanonical(said: JsonObject, text: string): boolean {
  try {
    return canonicalText(said) === text
  } catch {
    return false
  }
}

function readableId(row: Row): string | null {
  const id = objectOf(row.text)?.id ?? row.columns.id
  return typeof id === 'string' ? id : null
}
