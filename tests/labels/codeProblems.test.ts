import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type CupCode, encodeCupCode, encodePanelCode, readCode } from '../../labels/code.ts'
import {
  CLEAR_CODE,
  OURS,
  oldPanelCode,
  problemOf,
  read,
  resealed,
  textOf,
} from '../support/labelCodes.ts'
import { CLEAR, days, MIXED_AT_MS, minutes } from '../support/labelSamples.ts'

describe('problems', () => {
  test('nothing read', () => {
    expect(problemOf(read('  ')).code).toBe('empty')
  })

  test.each([
    'https://example.org/x',
    `C2-${'A'.repeat(5000)}`,
    '4006381333931',
    'C1',
    'HELLO WORLD',
    'C1K7FK7F3QABC',
  ])('%s is not ours', (text) => {
    expect(['notOurs', 'notInAlphabet']).toContain(problemOf(read(text)).code)
  })

  test('any wrong sign and any two neighbors swapped are found by the check digits', () => {
    const place = fc.integer({ min: 3, max: CLEAR_CODE.length - 1 })
    fc.assert(
      fc.property(place, fc.constantFrom(...'0123456789ABCDEFGHJKMNPQRSTVWXYZ.'), (at, sign) => {
        fc.pre(CLEAR_CODE[at] !== sign && CLEAR_CODE[at] !== '-')
        const wrong = CLEAR_CODE.slice(0, at) + sign + CLEAR_CODE.slice(at + 1)
        expect(problemOf(read(wrong)).code).toBe('checksum')
      }),
    )
    for (let at = 3; at < CLEAR_CODE.length - 1; at += 1) {
      const [a = '', b = ''] = CLEAR_CODE.slice(at, at + 2)
      const swapped = CLEAR_CODE.slice(0, at) + b + a + CLEAR_CODE.slice(at + 2)
      if (a !== b) expect(problemOf(read(swapped)).code).toBe('checksum')
    }
  })

  test('a label cut short is not taken', () => {
    for (let length = 3; length < CLEAR_CODE.length; length += 1) {
      expect(read(CLEAR_CODE.slice(0, length)).kind).toBe('problem')
    }
  })

  test.each([
    ['a field too few', (f: string[]) => f.slice(0, -1)],
    ['a field too many', (f: string[]) => [...f, '0']],
    ['a tag outside the alphabet', (f: string[]) => f.with(1, 'K10')],
    ['an id too short', (f: string[]) => f.with(2, 'K7F3')],
    ['no job', (f: string[]) => f.with(3, '')],
    ['no ratio', (f: string[]) => f.with(5, '')],
    ['a pot life in words', (f: string[]) => f.with(7, 'K45')],
    ['no hazard', (f: string[]) => f.with(8, '')],
    ['a hazard that is none', (f: string[]) => f.with(8, '99')],
  ])('rightly sealed but with %s it is garbled', (_, change) => {
    expect(problemOf(read(resealed(CLEAR_CODE, change))).code).toBe('garbled')
  })

  test('a label of a later version shows its fields and asks for an update', () => {
    const later = problemOf(read(CLEAR_CODE.replace('C1-', 'C2-')))
    expect(later.code).toBe('unknownSchema')
    expect(later.fields).toContain('K7F3QABC')
    expect(textOf(later)).toContain('version (C2)')
    expect(textOf(later)).toContain('K7F3QABC')
    expect(textOf(later)).toContain('Update')
    expect(later).not.toHaveProperty('says')
    expect(problemOf(read('P12-K7F-ABC')).code).toBe('unknownSchema')
  })

  test('mixed more than 5 min from now is impossible', () => {
    expect(read(CLEAR_CODE, MIXED_AT_MS - minutes(5)).kind).toBe('cup')
    const ahead = problemOf(read(CLEAR_CODE, MIXED_AT_MS - minutes(6)))
    expect(ahead.code).toBe('mixedInFuture')
    expect(textOf(ahead)).toContain('6 min from now')
  })

  test('mixed more than 30 days ago is not trusted', () => {
    expect(read(CLEAR_CODE, MIXED_AT_MS + days(30)).kind).toBe('cup')
    const old = problemOf(read(CLEAR_CODE, MIXED_AT_MS + days(31)))
    expect(old.code).toBe('tooOld')
    expect(textOf(old)).toContain('31 days ago')
  })

  test("another shop's label is refused as such, with what it says", () => {
    const theirs = problemOf(readCode(CLEAR_CODE, { ...OURS, shopTag: 'ZZZ' }))
    expect(theirs.code).toBe('otherShop')
    expect(textOf(theirs)).toContain('K7F')
    expect(theirs.says).toMatchObject({ kind: 'cup', cup: 'K7F3QABC', minutesLeft: 35 })
    const panel = encodePanelCode({ shopTag: 'K7F', panel: 'R4TPDXYZ' })
    expect(problemOf(readCode(panel, { ...OURS, shopTag: 'ZZZ' })).says).toMatchObject({
      kind: 'panel',
    })
  })

  // The sign that a US scanner's minus gives under a German, French, Spanish and Nordic layout: common
  // knowledge of keyboards, no source.
  test.each(['ß', ')', "'", '+', '–', '_', '/'])(
    'a scanner that types %s for the minus gets a hint',
    (sign) => {
      for (const text of [CLEAR_CODE, oldPanelCode('K7F', 'R4TPDXYZ')]) {
        const slip = problemOf(read(text.replaceAll('-', sign).toLowerCase()))
        expect(slip.code).toBe('keyboardLayout')
        expect(textOf(slip)).toContain(`types ${sign} where`)
      }
    },
  )

  test('whatever is typed, reading it never throws and never makes up a cup', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        expect(['typed', 'problem']).toContain(read(text).kind)
      }),
    )
  })
})

describe('what a label cannot say', () => {
  test.each<[string, Partial<CupCode>]>([
    ['shopTag', { shopTag: 'K70' }],
    ['cup', { cup: 'K7F3' }],
    ['job', { job: 'JOB 7' }],
    ['mixedAtMs', { mixedAtMs: Date.UTC(2019, 11, 31) }],
  ])('a wrong %s is refused by its name', (field, wrong) => {
    expect(() => encodeCupCode({ ...CLEAR, ...wrong })).toThrow(
      new RegExp(`^${field}: .+ won't work\\. Use `),
    )
  })

  test('a wrong panel is refused by its name', () => {
    expect(() => encodePanelCode({ shopTag: 'K7F', panel: 'door' })).toThrow(
      /^panel: door won't work/,
    )
  })
})
