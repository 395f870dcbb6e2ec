import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  checksum,
  classCode,
  encodeCupCode,
  encodePanelCode,
  readCode,
  shopTag,
} from '../../labels/code.ts'
import { ratioCode, ratioText } from '../../labels/ratio.ts'
import { clockText } from '../../labels/time.ts'
import { ID_ALPHABET } from '../../machines/accept.ts'
import { STAGES } from '../../machines/sheet/schema.ts'
import { CLEAR_CODE, OURS, problemOf, read, resealed, textOf } from '../support/labelCodes.ts'
import {
  anyCode,
  BASE,
  CLEAR,
  days,
  id,
  MADRID,
  MIXED_AT_MS,
  minutes,
} from '../support/labelSamples.ts'

describe('what a cup says', () => {
  test('the van clear reads as its parts', () => {
    expect(CLEAR_CODE).toMatch(/^C1-K7F-K7F3QABC-J7K3MABC-CL2-2X1X0\.5-25SNH-45-11278-[0-9A-Z]{2}$/)
    expect(read(CLEAR_CODE)).toEqual({
      kind: 'cup',
      shopTag: 'K7F',
      cup: 'K7F3QABC',
      job: 'J7K3MABC',
      class: 'CL2',
      stage: 'clear',
      hasActivator: true,
      ratio: '2:1:0.5',
      by: 'volume',
      mixedAtMs: MIXED_AT_MS,
      useByMs: MIXED_AT_MS + minutes(45),
      keepUntilMs: null,
      hazard: {
        signal: 'danger',
        isocyanate: true,
        pictograms: ['flame', 'exclamation', 'healthHazard'],
      },
      minutesLeft: 35,
      isPast: false,
    })
  })

  // The worked example of the label's first draft, whose separator was a star: its time and check digits.
  test('the check digits and the minutes are those of the worked example', () => {
    expect(checksum('C1*K7F3Q*J10423*2C*4-1-1*25SNH*060*H278*')).toBe('ZC')
    expect(Date.UTC(2020, 0, 1) + minutes(Number.parseInt('25SNH', 36))).toBe(MIXED_AT_MS)
  })

  test('whatever was mixed is read back, to the minute and never later', () => {
    fc.assert(
      fc.property(anyCode, (code) => {
        const text = encodeCupCode(code)
        const cut = (ms: number | null) => ms && Math.floor(ms / 60_000) * 60_000
        const said = readCode(text, { shopTag: code.shopTag, nowMs: code.mixedAtMs })
        expect(said).toMatchObject({
          ...code,
          ratio: code.ratio.length > 16 ? null : code.ratio,
          stage: code.stage === 'polish' ? 'other' : code.stage,
          mixedAtMs: cut(code.mixedAtMs),
          useByMs: cut(code.useByMs),
          keepUntilMs: cut(code.keepUntilMs),
        })
        // ISO/IEC 18004's alphanumeric set (from memory): a sign outside would make the symbol larger.
        expect(text).toMatch(/^[0-9A-Z $%*+\-./:]+$/)
      }),
    )
  })

  test('a scanner calculates the use-by that is printed', () => {
    fc.assert(
      fc.property(anyCode, (code) => {
        const said = readCode(encodeCupCode(code), { shopTag: code.shopTag, nowMs: code.mixedAtMs })
        if (code.useByMs === null || said.kind !== 'cup') return
        expect(clockText(said.useByMs ?? 0, MADRID)).toEqual(clockText(code.useByMs, MADRID))
      }),
    )
  })

  test('the minutes left count down and go below zero', () => {
    const at = (min: number) => read(CLEAR_CODE, MIXED_AT_MS + minutes(min))
    expect(at(44.5)).toMatchObject({ minutesLeft: 0, isPast: false })
    expect(at(45)).toMatchObject({ minutesLeft: 0, isPast: true })
    expect(at(45.5)).toMatchObject({ minutesLeft: -1, isPast: true })
  })

  test('a cup poured from one that was over has no minute left and is not taken for one without pot life', () => {
    const text = encodeCupCode({ ...CLEAR, useByMs: MIXED_AT_MS - minutes(5) })
    expect(read(text)).toMatchObject({ useByMs: MIXED_AT_MS, isPast: true, minutesLeft: -10 })
  })

  test('every stage has its own class, with and without an activator', () => {
    const sprayed = STAGES.slice(1, 8)
    const codes = sprayed.flatMap((stage) =>
      [true, false].map((hasActivator) => classCode({ stage, hasActivator })),
    )
    expect(new Set(codes).size).toBe(14)
    expect(classCode({ stage: 'base', hasActivator: false })).toBe('BA1')
    expect(classCode({ stage: 'sand', hasActivator: false })).toBe('OT1')
  })

  test('a class of a later version is shown unchanged', () => {
    const text = resealed(CLEAR_CODE, (fields) => fields.with(4, 'ZZ2'))
    expect(read(text)).toMatchObject({ kind: 'cup', class: 'ZZ2', stage: null, hasActivator: null })
  })
})

describe('no pot life', () => {
  const text = encodeCupCode(BASE)

  test('a keep-until takes the place of the pot life', () => {
    expect(text).toContain('-STOCK-BA1-2X1-25SNH-0K')
    expect(read(text)).toMatchObject({
      job: null,
      useByMs: null,
      keepUntilMs: MIXED_AT_MS + days(90),
      minutesLeft: null,
      isPast: false,
    })
  })

  test('past its keep date it is shown as past, not refused', () => {
    expect(read(text, MIXED_AT_MS + days(89))).toMatchObject({ kind: 'cup', isPast: false })
    expect(read(text, MIXED_AT_MS + days(400))).toMatchObject({ kind: 'cup', isPast: true })
  })

  test('without a keep date it is trusted for 30 days', () => {
    const bare = encodeCupCode({ ...BASE, keepUntilMs: null })
    expect(bare).toContain('-25SNH-0K-2')
    expect(read(bare, MIXED_AT_MS + days(30))).toMatchObject({
      kind: 'cup',
      keepUntilMs: null,
      isPast: false,
    })
    expect(problemOf(read(bare, MIXED_AT_MS + days(30) + 1)).code).toBe('tooOld')
  })
})

describe('what comes in', () => {
  test('small letters and outer spaces do not matter', () => {
    expect(read(`  ${CLEAR_CODE.toLowerCase()}\r\n`)).toEqual(read(CLEAR_CODE))
  })

  test('a typed id or its beginning, from two signs on', () => {
    expect(read('k7')).toEqual({ kind: 'typed', prefix: 'K7' })
    expect(read(' K7F3 QABC ')).toEqual({ kind: 'typed', prefix: 'K7F3QABC' })
    expect(problemOf(read('K')).code).toBe('notOurs')
    expect(problemOf(read('K7F3QABCD')).code).toBe('notOurs')
  })

  test.each(['0', 'O', '1', 'I', 'L', 'U'])(
    'a typed %s is not in any id, and the sentence says so',
    (sign) => {
      const problem = problemOf(read(`K7${sign}`))
      expect(problem.code).toBe('notInAlphabet')
      expect(textOf(problem)).toContain(`Ids have no ${sign}:`)
    },
  )

  test('a panel tag names its panel', () => {
    fc.assert(
      fc.property(id(3), id(8), (tag, panel) => {
        const text = encodePanelCode({ shopTag: tag, panel })
        const said = readCode(text.toLowerCase(), { ...OURS, shopTag: tag })
        expect(said).toEqual({ kind: 'panel', shopTag: tag, panel })
      }),
    )
  })
})

describe('the tag of a shop', () => {
  // FNV-1a, 32 bit: the values of "" (its offset), "a" and "foobar" in the function's published test suite, from memory.
  test.each([
    ['', 0x811c9dc5],
    ['a', 0xe40c292c],
    ['foobar', 0xbf9cf968],
  ])('of %j is the published hash, written with the id alphabet', (shop, hash) => {
    const signs = [1, 30, 900].map((place) => ID_ALPHABET[Math.floor(hash / place) % 30])
    expect(shopTag(shop)).toBe(signs.join(''))
  })

  test('neighbors seldom share one', () => {
    const tags = new Set(Array.from({ length: 500 }, (_, n) => shopTag(`shop-${n}`)))
    expect(tags.size).toBeGreaterThan(480)
  })
})

describe('a ratio on a label', () => {
  test.each([
    ['2:1:0.5', '2:1:0.5', '2:1:0.5'],
    ['4 : 1 + 10%', '4:1+10%', '4:1+10%'],
    // Sixteen signs are carried, seventeen are not.
    ['10:20:30:40:5.25', '10:20:30:40:5.25', '10:20:30:40:5.25'],
    ['10:20:30:40:50.25', '0', '10:20:30 + 2 MORE'],
    ['1:2:3:4:5:6:7:8:9:10:11:12', '0', '1:2:3 + 9 MORE'],
    ['100:50:12.5+10%+12.5%', '0', '100:50:12.5 + 2 MORE'],
    ['100.125:50.125+10%+12.5%', '0', '100:50.1+10% + 1 MORE'],
    // What arithmetic leaves of a part that was topped up.
    ['4:1:0.30000000000000004', '0', '4:1:0.3'],
    ['1:1e-7', '0', '1:1e-7'],
  ])('%s is carried as %s and printed as %s', (ratio, carried, printed) => {
    expect(ratioCode(ratio)).toBe(carried)
    expect(ratioText(ratio, 'MORE')).toBe(printed)
  })

  test('that is not carried reads as one that is on the sheet', () => {
    const code = { ...CLEAR, ratio: '1:2:3:4:5:6:7:8:9:10:11:12' }
    expect(read(encodeCupCode(code))).toMatchObject({ kind: 'cup', ratio: null, by: 'volume' })
    expect(read(encodeCupCode({ ...code, by: 'mass' }))).toMatchObject({ ratio: null, by: 'mass' })
  })
})
