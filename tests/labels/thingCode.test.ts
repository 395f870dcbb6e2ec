import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { encodeThingCode, lotKey, type ThingCode } from '../../labels/code.ts'
import { addressBefore } from '../../labels/payload.ts'
import { CLEAR_CODE, OURS, problemOf, read } from '../support/labelCodes.ts'
import { id } from '../support/labelSamples.ts'

/** Ids of people, guns and products: what the contract takes. */
const id40 = fc.stringMatching(/^[A-Za-z0-9-]{1,40}$/)
const kind = fc.constantFrom('person' as const, 'gun' as const, 'product' as const)

describe('the code of a thing that stays', () => {
  test('reads back as that thing, its id in capitals, whatever is in id and lot', () => {
    fc.assert(
      fc.property(
        kind,
        id40,
        fc.option(fc.string({ minLength: 1, maxLength: 30 })),
        (of, given, lot) => {
          const code: ThingCode = {
            ...{ kind: of, shopTag: OURS.shopTag, id: given },
            lot: of === 'product' ? lot : null,
          }
          const text = encodeThingCode(code)
          // ISO/IEC 18004, 7.3.4: the signs that a QR holds two in eleven bits, without those that
          // a keyboard has elsewhere in another language.
          expect(text).toMatch(/^[A-Z0-9-]+$/)
          const key = code.lot === null ? '' : lotKey(code.lot)
          expect(read(text)).toEqual({
            ...code,
            id: given.toUpperCase(),
            lot: key === '' ? null : key,
          })
        },
      ),
    )
  })

  test('of a job is its id, and a lot is compared by its letters and digits', () => {
    const job = { kind: 'job' as const, shopTag: OURS.shopTag, id: 'J7K3MABC', lot: null }
    expect(read(encodeThingCode(job))).toEqual(job)
    expect(lotKey(' b 2231/a ')).toBe('B-2231-A')
    expect(lotKey('Ñ-7')).toBe('N-7')
  })

  test('with any sign wrong is refused, and never another thing', () => {
    fc.assert(
      fc.property(id40, fc.nat(), fc.constantFrom(...'ABCXYZ019-'), (given, at, sign) => {
        const text = encodeThingCode({ kind: 'gun', shopTag: OURS.shopTag, id: given, lot: null })
        const place = 3 + (at % (text.length - 3))
        const wrong = text.slice(0, place) + sign + text.slice(place + 1)
        if (wrong !== text) expect(problemOf(read(wrong)).code).toBe('checksum')
      }),
    )
  })

  test('of another shop says so, with what it reads as', () => {
    fc.assert(
      fc.property(id(3), id40, (shopTag, given) => {
        fc.pre(shopTag !== OURS.shopTag)
        const text = encodeThingCode({ kind: 'person', shopTag, id: given, lot: null })
        expect(problemOf(read(text))).toMatchObject({
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
