import * as v from 'valibot'
import { type Entry, THING_KEYS } from '../../machines/envelope.ts'
import { canonicalText, sha256 } from '../log/canonical.ts'
import { link } from '../log/chain.ts'
import type { Head } from '../log/log.ts'
import { entryOf } from '../log/rows.ts'

/** A line of an export that cannot be taken. */
export class LineError extends Error {
  /** @param what a clause without a full stop */
  constructor(line: number, what: string) {
    super(`line ${line}: ${what}. Nothing was imported.`)
  }
}

const word = v.pipe(v.string(), v.minLength(1))
const whole = v.pipe(v.number(), v.safeInteger())
/** What the store needs of an entry; the rest is the entry's own and stays as it is. */
const entrySchema = v.looseObject({
  shop: v.pipe(v.string(), v.regex(/^[A-Za-z0-9-]{1,40}$/)),
  position: whole,
  id: word,
  command: word,
  type: word,
  version: whole,
  at: whole,
  recordedAt: whole,
  commandDigest: word,
  data: v.looseObject({}),
  hash: v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/)),
  ...Object.fromEntries(THING_KEYS.map((key) => [key, v.optional(word)])),
})

/**
 * The entry in a line, which must be the next of its shop.
 * @param headOf how far the lines before it have come in a shop
 * @throws LineError
 */
export function entryInLine(line: number, json: string, headOf: (shop: string) => Head): Entry {
  const given = parsed(line, json)
  const read = v.safeParse(entrySchema, given)
  if (!read.success) {
    const [issue] = read.issues
    const key = issue.path?.map(({ key }) => String(key)).join('.')
    const what = key ? `its ${key} is missing or not as an entry has it` : 'it is not a JSON object'
    throw new LineError(line, what)
  }
  const { shop, position, recordedAt, hash } = read.output
  const head = headOf(shop)
  if (position !== head.position + 1)
    throw new LineError(
      line,
      `entry ${position} of shop ${shop} stands where entry ${head.position + 1} follows`,
    )
  if (recordedAt < head.recordedAt)
    throw new LineError(line, `entry ${position} is recorded before the one in front of it`)
  const { hash: _, ...rest } = read.output
  const text = textOf(line, rest)
  if (link(head.hash, sha256(text)) !== hash)
    throw new LineError(
      line,
      `the hash of entry ${position} is not that of the entry before it and this text`,
    )
  return entryOf(shop, { text, hash, position })
}

function parsed(line: number, json: string): unknown {
  try {
    return JSON.parse(json)
  } catch {
    throw new LineError(line, 'it is not JSON')
  }
}

function textOf(line: number, entry: object): string {
  try {
    return canonicalText(entry)
  } catch {
    throw new LineError(line, 'it holds a number or text that no entry may hold')
  }
}
