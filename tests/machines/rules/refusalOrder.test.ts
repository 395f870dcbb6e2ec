import { describe, expect, test } from 'vitest'
import { REFUSALS } from '../../../machines/refusals.ts'
import {
  air,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_ONLY,
  coat,
  refusalOf,
  startCoat,
  vanWith,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

const clear = startCoat(CLEAR_CUP)

describe('several reasons at once', () => {
  /** A panel with every problem at once that a coat of clear can have. */
  function everything(): Shop {
    const shop = vanWith([...CLEAR_ONLY], [BASE, CLEAR])
    coat(shop, CLEAR_CUP, 1, 5)
    shop.at(6).do('LoadGun', { gun: 'gun-1', cup: BASE_CUP })
    return air(shop, 490, 14, 0.99, { surfaceC: 14 })
  }
  const loaded = startCoat(CLEAR_CUP, { gun: 'gun-1' })

  test('the first in the fixed order is given, the others are listed in also', () => {
    const { code, also } = refusalOf(loaded(everything().at(491)))
    expect([code, ...also]).toEqual([
      'windowShut',
      'potLifeOver',
      'gunHolds',
      'airOutside',
      'dewPoint',
    ])
  })

  test('step and cup come before product, product before chemistry of the cup', () => {
    const shop = vanWith([{ stage: 'prep' }, ...CLEAR_ONLY], [BASE, CLEAR])
    shop.at(61).do('EmptyCup', { cup: CLEAR_CUP, how: 'used' })
    const { code, also } = refusalOf(clear(shop))
    expect([code, ...also]).toEqual(['wrongStep', 'cupEmptied', 'potLifeOver'])
  })

  test('also is in the order of the table, without the first and without doubles', () => {
    const order = Object.keys(REFUSALS)
    const { code, also } = refusalOf(loaded(everything().at(491)))
    const places = [code, ...also].map((c) => order.indexOf(c))
    expect(places).toEqual(places.toSorted((a, b) => a - b))
    expect(new Set(also).size).toBe(also.length)
  })
})
