import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { checksum, encodeThingCode, lotKey, type ThingCode } from '../../labels/code.ts'
import { addressBefore } from '../../labels/payload.ts'
import { idDigest } from '../../machines/digest.ts'
import { idLike } from '../../machines/lookup.ts'
import { CLEAR_CODE, OURS, oldThingCode, problemOf, read } from '../support/labelCodes.ts'
import { id } from '../support/labelSamples.ts'
import { Shop } from '../support/shop.ts'

const GUN = { kind: 'gun' as const, shopTag: OURS.shopTag, id: 'gun-1', lot: null }

/** Ids of people, guns and products: what the contract takes. */
const id40 = fc.stringMatching(/^[A-Za-z0-9-]{1,40}$/)
const kind = fc.constantFrom('person' as const, 'gun' as const, 'product' as const)
const lot30 = fc.option(fc.string({ minLength: 1, maxLength: 30 }))
const keyOf = (lot: string | null) => (lot === null || lotKey(lot) === '' ? null : lotKey(lot))

describe('the code of a thing that stays', () => {
  test('reads back as eight signs that stand for its id, and the lot, whatever is in them', () => {
    fc.assert(
      fc.property(kind, id40, lot30, (of, given, any) => {
        const lot = of === 'product' ? any : null
        const code: ThingCode = { kind: of, shopTag: OURS.shopTag, id: given, lot }
        const text = encodeThingCode(code)
        // ISO/IEC 18004, 7.3.4: the signs that a QR holds two in eleven bits, without those that
        // a keyboard has elsewhere in another language.
        expect(text).toMatch(/^[A-Z0-9-]+$/)
        const read40 = { ...code, id: idDigest(given), lot: keyOf(lot), isDigest: true }
        expect(read(text)).toEqual(read40)
        expect(read(text.toLowerCase())).toEqual(read40)
        // Without a lot it fits the smallest QR, however long the id is.
        if (keyOf(lot) === null) expect(text).toHaveLength(15)
      }),
    )
  })

  test('as printed on older badges and tags is read for good, its id in capitals', () => {
    // What an earlier build printed, to the letter.
    expect(oldThingCode('person', 'K7F', 'clear-gun-1')).toBe('W1-K7F-3-CLEAR-GUN-1-2X')
    expect(oldThingCode('product', 'K7F', 'clear-gun-1', 'b 22/31')).toBe(
      'S1-K7F-3-CLEAR-GUN-1-B-22-31-OY',
    )
    fc.assert(
      fc.property(kind, id40, lot30, (of, given, any) => {
        const lot = of === 'product' ? any : null
        expect(read(oldThingCode(of, OURS.shopTag, given, lot))).toEqual({
          ...{ kind: of, shopTag: OURS.shopTag, id: given.toUpperCase(), lot: keyOf(lot) },
        })
      }),
    )
  })

  test('leads to that thing, by the old code as by the new, and to no other', () => {
    const ids = ['Ana-1', 'gun-1', 'GUN-2', 'a', 'a-much-longer-id-than-a-code-would-hold']
    const shop = new Shop()
    for (const gun of ids) shop.do('SaveGun', { gun })
    const of = (text: string) => {
      const said = read(text)
      return said.kind === 'gun' ? idLike(shop.state, 'gun', said.id) : said
    }
    for (const one of ids) {
      expect(of(encodeThingCode({ ...GUN, id: one }))).toBe(one)
      expect(of(oldThingCode('gun', OURS.shopTag, one))).toBe(one)
    }
    expect(of(encodeThingCode({ ...GUN, id: 'gun-3' }))).toBe(null)
    // By its case alone another: the new code knows which, the old one does not guess.
    for (const gun of ['ANA-1x', 'ana-1X']) shop.do('SaveGun', { gun })
    expect(of(encodeThingCode({ ...GUN, id: 'ana-1X' }))).toBe('ana-1X')
    expect(of(oldThingCode('gun', OURS.shopTag, 'ana-1X'))).toBe(null)
  })

  test('stands for one id alone among all that a shop may have', () => {
    const ids = ['gun', 'clear', 'base-white', 'P', 'a-long-name-of-a-product'].flatMap((name) =>
      Array.from({ length: 4_000 }, (_, n) => `${name}-${n}`),
    )
    expect(new Set(ids.map(idDigest)).size).toBe(ids.length)
    for (const one of ids.slice(0, 100)) expect(idDigest(one)).toMatch(/^[2-9A-Z]{8}$/)
  })

  test('of a job is its id, and a lot is compared by its letters and digits', () => {
    const job = { kind: 'job' as const, shopTag: OURS.shopTag, id: 'J7K3MABC', lot: null }
    expect(read(encodeThingCode(job))).toEqual(job)
    expect(lotKey(' b 2231/a ')).toBe('B-2231-A')
    expect(lotKey('Ñ-7')).toBe('N-7')
  })

  test('with any sign wrong is refused, and never another thing', () => {
    fc.assert(
      fc.property(
        id40,
        fc.boolean(),
        fc.nat(),
        fc.constantFrom(...'ABCXYZ019-'),
        (given, isOld, at, sign) => {
          const text = isOld
            ? oldThingCode('gun', OURS.shopTag, given)
            : encodeThingCode({ ...GUN, id: given })
          const place = 3 + (at % (text.length - 3))
          const wrong = text.slice(0, place) + sign + text.slice(place + 1)
          if (wrong === text) return
          const { code } = problemOf(read(wrong))
          // A - at another place makes another form of it.
          expect(isOld || sign !== '-' ? ['checksum'] : ['checksum', 'notOurs']).toContain(code)
        },
      ),
    )
  })

  test('of another shop says so, with what it reads as', () => {
    fc.assert(
      fc.property(id(3), id40, (shopTag, given) => {
        fc.pre(shopTag !== OURS.shopTag)
        const text = encodeThingCode({ kind: 'person', shopTag, id: given, lot: null })
        expect(problemOf(read(text))).toMatchObject({
          code: 'otherShop',
          says: { kind: 'person', id: idDigest(given) },
        })
        expect(problemOf(read(oldThingCode('person', shopTag, given)))).toMatchObject({
          code: 'otherShop',
          says: { kind: 'person', id: given.toUpperCase() },
        })
      }),
    )
  })

  test('of a later version is shown as it reads and not guessed', () => {
    expect(problemOf(read('W2-K7F-1-AB-00'))).toMatchObject({
      code: 'unknownSchema',
      names: ['W2', 'K7F 1 AB 00'],
    })
    const body = 'W3K7F4Q8MZ2RT'
    expect(problemOf(read(body + checksum(body)))).toMatchObject({ code: 'unknownSchema' })
  })
})

test('a code behind the address of the kiosk reads as the code alone, however a phone writes it', () => {
  const before = addressBefore('http://flashbell.lan:4600')
  // Every sign of it is one that a QR holds as densely as the code.
  expect(before).toMatch(/^[A-Z0-9 $%*+./:-]+$/)
  expect(read(before + CLEAR_CODE)).toEqual(read(CLEAR_CODE))
  expect(read(`http://flashbell.lan:4600/s/${CLEAR_CODE.toLowerCase()}`)).toEqual(read(CLEAR_CODE))
  expect(problemOf(read('https://example.org/other')).code).toBe('notOurs')
})
