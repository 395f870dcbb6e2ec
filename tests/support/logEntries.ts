import fc from 'fast-check'
import type { Entry, Json } from '../../machines/envelope.ts'
import { emptyHead, seal } from '../../server/log/chain.ts'
import type { Head, Row, Unsealed } from '../../server/log/log.ts'
import { rowOf } from '../../server/log/rows.ts'

/** What a test says about an entry; the rest is filled in. */
export type Content = Partial<Omit<Unsealed, 'shop' | 'position'>>

const START = 1_780_000_000_000

/** Sealed entries that follow `head`, one for each content, recorded a second apart. */
export function entriesAfter(shop: string, head: Head, contents: readonly Content[]): Entry[] {
  let { hash, position, recordedAt } = head
  return contents.map((content) => {
    position += 1
    recordedAt = content.recordedAt ?? Math.max(recordedAt, START) + 1000
    const command = content.command ?? `c${position}`
    const entry = seal(shop, hash, {
      id: `${command}.0`,
      type: 'NoteAdded',
      version: 1,
      at: recordedAt,
      enteredAt: recordedAt,
      device: null,
      by: null,
      command,
      commandDigest: 'd'.repeat(64),
      seq: position,
      data: {},
      ...content,
      shop,
      position,
      recordedAt,
    })
    hash = entry.hash
    return entry
  })
}

export const firstEntries = (shop: string, contents: readonly Content[]): Entry[] =>
  entriesAfter(shop, emptyHead(shop), contents)

export const rowsOfAll = (entries: readonly Entry[]): Row[] => entries.map(rowOf)

/**
 * Every field an envelope can have, each with a value of its own, and text that is hard to carry.
 */
export const everyField = {
  id: 'pass-9.3',
  type: 'CoatFinished',
  version: 2,
  at: 1_780_000_000_123,
  enteredAt: 1_780_000_000_456,
  recordedAt: 1_780_003_600_789,
  clockOffsetMs: -1500,
  device: 'kiosk-2',
  by: 'painter-1',
  source: 'queued',
  command: 'pass-9',
  commandDigest: '0123456789abcdef'.repeat(4),
  seq: 41,
  job: 'JJJJ2222',
  panel: 'PPPP2222',
  cup: 'CCCC2222',
  gun: 'gun-1',
  zone: 'booth',
  sheet: 'clear-2-1',
  data: {
    usedMl: 0.1 + 0.2,
    tiny: 5e-324,
    list: [1, [true, null]],
    note: 'tack "rag" \\ \u0000 \u2028 é e\u0301 \u{1f3a8}',
    '': { b: 1, a: 2, '10': 3, '9': 4 },
  },
  reason: 'the booth door stood open',
  outside: [{ code: 'airOutside', limit: { maxC: 30 }, value: 31.5 }],
  notJudged: ['dewPoint'],
  override: {
    reason: 'the lead said so',
    codes: ['flashNotOver'],
    broken: [{ code: 'flashNotOver', limit: 600_000, value: 540_000 }],
  },
  corrects: 'pass-8.0',
} satisfies Content

/** JSON as it comes out of a parser: no -0, no undefined. */
const json = fc.jsonValue({ stringUnit: 'grapheme' }).map((value): Json => reread(value))
const reread = (value: unknown): Json => JSON.parse(JSON.stringify(value))

const word = fc.string({ minLength: 1, maxLength: 8, unit: 'grapheme' })
const ms = fc.integer({ min: 1_577_836_800_000, max: 4_102_444_800_000 })

/** Any content; ids are left to the position so that they do not repeat. */
export const anyContent: fc.Arbitrary<Content> = fc.record(
  {
    type: word,
    version: fc.integer({ min: 1, max: 9 }),
    at: ms,
    enteredAt: ms,
    clockOffsetMs: fc.integer(),
    device: fc.option(word),
    by: fc.option(word),
    source: word,
    seq: fc.nat(),
    job: word,
    panel: word,
    cup: word,
    gun: word,
    zone: word,
    sheet: word,
    data: fc.dictionary(word, json).map((data) => JSON.parse(JSON.stringify(data))),
    reason: word,
    outside: fc.array(fc.record({ code: word, limit: json, value: json }), { maxLength: 2 }),
    notJudged: fc.array(word, { maxLength: 2 }),
    corrects: word,
  },
  { requiredKeys: [] },
)
