import canonicalize from 'canonicalize'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { canonicalText, entryText, sha256, writtenOf } from '../../server/log/canonical.ts'
import { commandDigest, emptyHead, link, seal, verify } from '../../server/log/chain.ts'
import type { Columns, Row } from '../../server/log/log.ts'
import rfc8785 from '../reference/rfc8785.json' with { type: 'json' }
import {
  anyContent,
  type Content,
  entriesAfter,
  everyField,
  firstEntries,
  rowsOfAll,
} from '../support/logEntries.ts'

const numberOfBits = (hex: string): number => Buffer.from(hex, 'hex').readDoubleBE()

test.each(rfc8785.numbers.finite)('RFC 8785 appendix B: %s is written %s', (bits, text) => {
  expect(canonicalText(numberOfBits(bits ?? ''))).toBe(text)
})

test.each(Object.entries(rfc8785.numbers.refused))(
  'RFC 8785 appendix B: %s, %s, is refused',
  (bits) => {
    expect(() => canonicalText({ at: numberOfBits(bits) })).toThrow()
  },
)

test('RFC 8785 section 3.2.3: names are sorted by UTF-16 code unit', () => {
  const text = canonicalText(JSON.parse(rfc8785.sorting.json))
  expect([...text.matchAll(/":"([^"]+)"/g)].map(([, value]) => value)).toEqual(
    rfc8785.sorting.order,
  )
})

test('RFC 8785 sections 3.2.2 and 3.2.4: the sample comes out byte for byte', () => {
  const bytes = Buffer.from(canonicalText(JSON.parse(rfc8785.sample.json)), 'utf8')
  expect(bytes.toString('hex')).toBe(rfc8785.sample.utf8Hex.replaceAll(' ', ''))
})

test.each(['\ud800', 'x\udfff', '\\\udc00', '\ud83d\ud83d'])(
  'half of a surrogate pair is refused (%j), as RFC 8785 section 3.2.2.2 demands',
  (half) => {
    expect(() => canonicalText({ note: half })).toThrow('surrogate')
    expect(() => canonicalText({ [half]: 1 })).toThrow('surrogate')
  },
)

test('the text of any value is the one of the published library', () => {
  const key = fc.oneof(
    fc.string(),
    fc.nat().map(String),
    fc.constantFrom('__proto__', 'toJSON', '007'),
  )
  const { any } = fc.letrec((tie) => ({
    any: fc.oneof(
      { depthSize: 'small' },
      ...[fc.string(), fc.double({ noNaN: true, noDefaultInfinity: true }), fc.boolean()],
      ...[fc.constantFrom(null, -0, new Date(0)), fc.array(tie('any'))],
      fc.dictionary(key, fc.option(tie('any'), { nil: undefined })),
    ),
  }))
  fc.assert(
    fc.property(any, (value) => {
      expect(canonicalText({ value })).toBe(canonicalize({ value }))
    }),
  )
})

test('text that only looks like half of a surrogate pair passes', () => {
  expect(canonicalText('\\ud800 and \u{1f600}')).toBe('"\\\\ud800 and \u{1f600}"')
})

test('SHA-256 of "abc" is that of FIPS 180-4, from memory', () => {
  expect(sha256('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad')
})

test('the hash is SHA-256 of the previous hash and the digest of the text without hash', async () => {
  // Calculated with WebCrypto, so that the chain is not checked by its own code.
  const sha = async (text: string) =>
    Buffer.from(await crypto.subtle.digest('SHA-256', Buffer.from(text, 'utf8'))).toString('hex')
  const [first, second] = firstEntries('S1', [{ data: { note: 'é' } }, everyField])
  if (!first || !second) throw new Error('no entries')
  expect(emptyHead('S1').hash).toBe(await sha('S1'))
  expect(first.hash).toBe(await sha((await sha('S1')) + (await sha(entryText(first)))))
  expect(second.hash).toBe(await sha(first.hash + (await sha(entryText(second)))))
  expect(entryText(first)).not.toContain('"hash"')
})

test('an entry sealed again from itself has the same hash', () => {
  const [entry] = firstEntries('S1', [everyField])
  if (!entry) throw new Error('no entry')
  expect(seal('S1', emptyHead('S1').hash, entry)).toEqual(entry)
})

test('a changed copy of an entry is not sealed by the digest of the original', () => {
  const [entry] = firstEntries('S1', [everyField])
  if (entry === undefined) throw new Error('no entry')
  const changed = { ...entry, at: entry.at + 1 }
  expect(writtenOf(entry)).toEqual({ text: entryText(entry), digest: sha256(entryText(entry)) })
  expect(writtenOf(changed)).toEqual({
    text: entryText(changed),
    digest: sha256(entryText(changed)),
  })
  expect(writtenOf(changed).digest).not.toBe(writtenOf(entry).digest)
})

test('an entry of another shop, or without a text, is not sealed', () => {
  const [entry] = firstEntries('S1', [{}])
  if (!entry) throw new Error('no entry')
  const refusal = { name: 'LogError', op: 'seal', code: 'program' }
  expect(() => seal('S2', '', entry)).toThrow(expect.objectContaining(refusal))
  const endless = { ...entry, data: { usedMl: Number.POSITIVE_INFINITY } }
  expect(() => seal('S1', '', endless)).toThrow(expect.objectContaining(refusal))
})

test('a command sent again with its fields in another order has the same digest', () => {
  const sent = { id: 'c1', type: 'EmptyCup', at: 1, data: { cup: 'CCCC2222', how: 'used' } }
  const again = { data: { how: 'used', cup: 'CCCC2222' }, type: 'EmptyCup', at: 1, id: 'c1' }
  expect(commandDigest(again)).toBe(commandDigest(sent))
  expect(commandDigest({ ...sent, at: 2 })).not.toBe(commandDigest(sent))
})

test('an empty log verifies, its head is the hash of the shop id', async () => {
  expect(await verify('S1', [])).toEqual({ ok: true, head: emptyHead('S1') })
})

const logs = fc.array(anyContent, { minLength: 1, maxLength: 8 })

test('whatever is sealed verifies', async () => {
  await fc.assert(
    fc.asyncProperty(logs, async (contents) => {
      const entries = firstEntries('S1', contents)
      const last = entries.at(-1)
      expect(await verify('S1', rowsOfAll(entries))).toEqual({
        ok: true,
        head: { position: entries.length, hash: last?.hash, recordedAt: last?.recordedAt },
      })
    }),
  )
})

/** Another value of the same kind, as someone would type who wants it unseen. */
function otherThan(value: unknown): unknown {
  if (typeof value === 'number') return value + 1
  if (typeof value === 'string') return `${value}x`
  if (value === null) return 'x'
  if (Array.isArray(value)) return [...value, 0]
  return { ...Object(value), x: 1 }
}

/**
 * Every way in which one field of a row can be changed: in the text, in a column, in what stands
 * beside.
 */
function changesOf(row: Row): [what: string, changed: Row][] {
  const said: Record<string, unknown> = JSON.parse(row.text)
  const withText = (fields: Record<string, unknown>): Row => ({
    ...row,
    text: canonicalText(fields),
  })
  const inText = Object.keys(said).flatMap((key): [string, Row][] => {
    const { [key]: _, ...without } = said
    return [
      [`text ${key}`, withText({ ...said, [key]: otherThan(said[key]) })],
      [`text without ${key}`, withText(without)],
    ]
  })
  const inColumns = Object.entries(row.columns).map(([key, value]): [string, Row] => {
    const columns: Columns = { ...row.columns, [key]: otherThan(value) }
    return [`column ${key}`, { ...row, columns }]
  })
  return [
    ...inText,
    ...inColumns,
    ['one more field', withText({ ...said, extra: 1 })],
    ['hash', { ...row, hash: `${row.hash.slice(0, -1)}${row.hash.endsWith('0') ? '1' : '0'}` }],
    ['hash in capitals', { ...row, hash: `${row.hash.slice(0, -1)}A` }],
    ['white space', { ...row, text: row.text.replace(':', ': ') }],
  ]
}

test('whichever field of whichever entry is changed, verify names that entry', async () => {
  await fc.assert(
    fc.asyncProperty(logs, fc.nat(), async (contents, pick) => {
      const rows = rowsOfAll(firstEntries('S1', contents))
      const at = pick % rows.length
      const row = rows[at]
      if (!row) throw new Error('no row')
      for (const [what, changed] of changesOf(row)) {
        const verdict = await verify('S1', rows.with(at, changed))
        expect({ what, ...verdict }).toMatchObject({ what, ok: false, position: at + 1 })
      }
    }),
    { numRuns: 50 },
  )
})

const five = (): Row[] => rowsOfAll(firstEntries('S1', [{}, {}, everyField, {}, {}]))
const textOf = (row: Row | undefined): string => row?.text ?? ''

test('a missing entry is named by its position', async () => {
  const verdict = await verify('S1', five().toSpliced(2, 1))
  expect(verdict).toEqual({
    ok: false,
    position: 3,
    id: null,
    damage: { code: 'gap', params: { came: 4 } },
  })
})

test('an edited entry with a new hash is found at the entry after it', async () => {
  const rows = five()
  const [first, second] = rows
  if (!first || !second) throw new Error('no rows')
  const text = canonicalText({ ...JSON.parse(second.text), reason: 'never happened' })
  const forged = { ...second, text, hash: link(first.hash, sha256(text)) }
  expect(await verify('S1', rows.with(1, forged))).toMatchObject({ position: 3, id: 'pass-9.3' })
})

/** What is found of what a faulty program, not an edit, could have written: sealed correctly, and wrong. */
async function foundIn(shop: string, content: Content, change: (text: string) => string) {
  const [entry] = firstEntries('S1', [content])
  if (!entry) throw new Error('no entry')
  const [row] = rowsOfAll([entry])
  if (!row) throw new Error('no row')
  const text = change(row.text)
  const verdict = await verify(shop, [{ ...row, text, hash: link(sha256(shop), sha256(text)) }])
  return verdict.ok ? null : verdict.damage
}

test('a text that is not its own RFC 8785 form is named, though its hash is right', async () => {
  const loose = await foundIn('S1', {}, (text) => text.replace('"version":1', '"version":1.0'))
  expect(loose).toEqual({ code: 'notCanonical', params: {} })
  const endless = await foundIn('S1', {}, (text) => text.replace('"version":1', '"version":1e999'))
  expect(endless).toEqual({ code: 'notCanonical', params: {} })
  expect(await foundIn('S1', {}, () => '[1')).toEqual({ code: 'notJson', params: {} })
  expect(await foundIn('S1', {}, () => 'null')).toEqual({ code: 'notJson', params: {} })
})

test('an entry of another shop, or of another position, is named, though its hash is right', async () => {
  expect(await foundIn('S2', {}, (text) => text)).toEqual({
    code: 'otherShop',
    params: { said: '"S1"' },
  })
  const moved = await foundIn('S1', {}, (text) => text.replace('"position":1', '"position":2'))
  expect(moved).toEqual({ code: 'otherPosition', params: { said: '2' } })
})

test('a column that disagrees with the text is named with both values', async () => {
  const rows = five()
  const third = rows[2]
  if (!third) throw new Error('no row')
  const moved = { ...third, columns: { ...third.columns, cup: null } }
  expect(await verify('S1', rows.with(2, moved))).toEqual({
    ok: false,
    position: 3,
    id: 'pass-9.3',
    damage: { code: 'otherColumn', params: { column: 'cup', has: 'null', said: '"CCCC2222"' } },
  })
})

test('an entry recorded before the one in front of it is named', async () => {
  const early = { recordedAt: 1_779_999_999_999 }
  const rows = rowsOfAll(firstEntries('S1', [{}, early, {}]))
  expect(await verify('S1', rows)).toMatchObject({
    position: 2,
    damage: { code: 'recordedBefore' },
  })
})

test('a text that can no longer be read is named by the id in its column', async () => {
  const rows = five()
  const third = rows[2]
  if (!third) throw new Error('no row')
  const torn = { ...third, text: textOf(third).slice(0, -1) }
  expect(await verify('S1', rows.with(2, torn))).toMatchObject({ position: 3, id: 'pass-9.3' })
})

test('a log is verified from where it begins, whatever was appended in which groups', async () => {
  const first = firstEntries('S1', [{}, {}])
  const last = first[1]
  if (!last) throw new Error('no entry')
  const head = { position: 2, hash: last.hash, recordedAt: last.recordedAt }
  const rows = rowsOfAll([...first, ...entriesAfter('S1', head, [everyField])])
  expect(await verify('S1', rows)).toMatchObject({ ok: true, head: { position: 3 } })
})
