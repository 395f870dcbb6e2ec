import canonicalize from 'canonicalize'
import type { Entry } from '../../machines/envelope.ts'
import type { Unsealed } from './log.ts'

/**
 * The one text of a value by RFC 8785: keys sorted by UTF-16 code unit, numbers as ECMAScript
 * writes them, no white space.
 * @throws for what has no such text: a number that is not finite, half of a surrogate pair
 */
export function canonicalText(value: unknown): string {
  const sorted = inOrder(value)
  // The library takes three times as long, and has the text of every value.
  const text = sorted === UNSORTABLE ? canonicalize(value) : JSON.stringify(sorted)
  if (text === undefined) throw new TypeError('undefined has no RFC 8785 text')
  // JSON.stringify writes a lone surrogate as an escape instead of refusing it, as section 3.2.2.2
  // demands.
  if (text.includes('\\ud') && LONE_SURROGATE.test(text))
    throw new TypeError('half of a surrogate pair has no RFC 8785 text')
  return text
}

const UNSORTABLE = Symbol('keys that no object keeps in order, or no JSON')
/** An object puts numbers before its other keys, whatever their order was. */
const IS_NUMBER = /^\d+$/

/** Plain JSON with the keys of its objects in order of UTF-16 code units: then JSON.stringify gives the very text. */
function inOrder(value: unknown): unknown {
  if (typeof value === 'number') return Number.isFinite(value) ? value : UNSORTABLE
  if (value === null || typeof value === 'string' || typeof value === 'boolean') return value
  if (typeof value !== 'object' || 'toJSON' in value) return UNSORTABLE
  if (Array.isArray(value)) {
    const items = value.map(inOrder)
    return items.includes(UNSORTABLE) ? UNSORTABLE : items
  }
  const sorted: Record<string, unknown> = {}
  const of = value as Readonly<Record<string, unknown>>
  for (const key of Object.keys(value).sort()) {
    if (of[key] === undefined) continue
    const item = inOrder(of[key])
    if (item === UNSORTABLE || IS_NUMBER.test(key) || key === '__proto__') return UNSORTABLE
    sorted[key] = item
  }
  return sorted
}

/** An escape \ud800 to \udfff whose own backslash is not escaped. */
const LONE_SURROGATE = /(?<!\\)(?:\\\\)*\\ud[89a-f]/

/** The text that is kept and hashed: the entry without `hash`. */
export function entryText(entry: Unsealed | Entry): string {
  if (!('hash' in entry)) return canonicalText(entry)
  const { hash: _, ...rest } = entry
  return canonicalText(rest)
}

/** An entry's text and its SHA-256. */
export type Written = { readonly text: string; readonly digest: string }

/**
 * What was made when an entry was sealed, by the entry itself: the store needs the same a moment
 * later, and an entry is never changed. A copy of it is another entry, and is written again.
 */
const written = new WeakMap<Entry, Written>()

/** @throws as canonicalText */
export function writtenOf(entry: Unsealed | Entry): Written {
  const known = 'hash' in entry ? written.get(entry) : undefined
  if (known !== undefined) return known
  const text = entryText(entry)
  return { text, digest: sha256(text) }
}

/** Remembers what a sealed entry was made of. */
export const keepWritten = (entry: Entry, own: Written): Entry => {
  written.set(entry, own)
  return entry
}

/** SHA-256 of the UTF-8 of a text, lower-case hex. */
export const sha256 = (text: string): string => Bun.SHA256.hash(text, 'hex')
