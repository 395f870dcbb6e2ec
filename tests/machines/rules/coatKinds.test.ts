import { describe, expect, test } from 'vitest'
import {
  around,
  BASE_CUP,
  CLEAR_CUP,
  coat,
  DOOR,
  minuteOf,
  outsideOf,
  queued,
  refusalOf,
  said,
  startCoat,
  vanWith,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'

const at20 = (minutes: number) => [{ atC: 20, minutes }]
const ROUTE = [{ stage: 'base', sheet: 'base-solvent', coats: { least: 1, planned: 2, most: 4 } }]
/** A base whose first coat was finished at minute 3. */
const based = (more: object, route: readonly object[] = ROUTE) =>
  coat(vanWith(route, [{ ...BASE, ...more }, CLEAR]), BASE_CUP, 1, 3)
const start = (kind: string) => startCoat(BASE_CUP, { kind })

describe('the flash between coats by the kind of the coming one', () => {
  const KINDS = { full: at20(8), light: at20(5), drop: 'intoWet', blend: 'matte' }

  test('is its own, a minute before and exactly at it', () => {
    const shop = based({ flashBetween: KINDS })
    expect(around(shop, 11, start('full'))).toEqual(['flashNotOver', 'done'])
    expect(around(shop, 8, start('light'))).toEqual(['flashNotOver', 'done'])
  })

  test('into wet has no wait, and matte wants a look', () => {
    const shop = based({ flashBetween: KINDS })
    expect(said(start('drop')(shop.fork().at(3)))).toBe('done')
    expect(said(start('blend')(shop.fork().at(60)))).toBe('lookFirst')
    const looked = shop.fork().at(5)
    looked.do('InspectCoat', { panel: DOOR, result: 'matt' })
    expect(said(start('full')(looked.fork()))).toBe('flashNotOver')
    expect(said(start('blend')(looked))).toBe('done')
  })

  test('into wet only within its minutes, and then when it has flashed', () => {
    const shop = based({ flashBetween: { ...KINDS, withinMin: 4 } })
    expect(around(shop, 7, start('drop'))).toEqual(['done', 'windowShut'])
    const refusal = refusalOf(start('drop')(shop.fork().at(7)))
    expect(minuteOf(refusal.clearsAt ?? 0)).toBe(18)
    expect(around(shop, 18, start('drop'))).toEqual(['windowShut', 'done'])
    // A full coat asks nothing of the wet.
    expect(said(start('full')(shop.fork().at(11)))).toBe('done')
  })

  test('that is not typed is the one of a full coat', () => {
    const shop = based({ flashBetween: { full: at20(8), light: at20(5) } })
    expect(around(shop, 11, start('drop'))).toEqual(['flashNotOver', 'done'])
  })

  test('may be the eye for a full coat too', () => {
    const shop = based({ flashBetween: { full: 'matte', drop: at20(5) } })
    expect(said(start('full')(shop.fork().at(100)))).toBe('lookFirst')
    expect(around(shop, 8, start('drop'))).toEqual(['flashNotOver', 'done'])
  })

  test('is judged of a finish alone as well', () => {
    const late = (kind: string) =>
      outsideOf(
        queued(based({ flashBetween: KINDS }).fork().at(60), 10, 'FinishCoat', {
          panels: [DOOR],
          cup: BASE_CUP,
          kind,
        })[0],
      )
    expect([late('light'), late('drop')]).toEqual([[], []])
  })

  test('leaves the flash before another product alone', () => {
    const route = [
      { stage: 'base', sheet: 'base-solvent', coats: { least: 1, planned: 1, most: 4 } },
      { stage: 'clear', sheet: 'clear-2k' },
    ]
    const shop = based({ flashBetween: KINDS }, route)
    const clear = startCoat(CLEAR_CUP, { kind: 'drop' })
    expect(around(shop, 18, clear)).toEqual(['flashNotOver', 'done'])
  })
})

describe('a drop coat of a sheet that says nothing of it', () => {
  const told = (dropOver: string) => {
    const shop = based({})
    shop.do('SetShopFigure', { sheet: 'base-solvent', dropOver })
    return shop
  }

  test('waits as the shop said once', () => {
    expect(said(start('drop')(told('wet').at(3)))).toBe('done')
    expect(around(told('halfMatte'), 7, start('drop'))).toEqual(['flashNotOver', 'done'])
    expect(said(start('drop')(told('matte').at(60)))).toBe('lookFirst')
    expect(around(told('wet'), 11, start('full'))).toEqual(['flashNotOver', 'done'])
  })

  test('goes by its sheet once that says it', () => {
    const shop = based({ flashBetween: { full: at20(8), drop: at20(6) } })
    shop.do('SetShopFigure', { sheet: 'base-solvent', dropOver: 'wet' })
    expect(around(shop, 9, start('drop'))).toEqual(['flashNotOver', 'done'])
  })

  test('goes by the last word, and not by one that came later', () => {
    const shop = told('matte').at(4)
    shop.do('SetShopFigure', { sheet: 'base-solvent', dropOver: 'wet' })
    const late = shop.fork().at(60)
    const [before] = queued(late, 3.5, 'StartCoat', {
      panels: [DOOR],
      cup: BASE_CUP,
      kind: 'drop',
    })
    expect(outsideOf(before)).toEqual(['lookFirst'])
    expect(said(start('drop')(shop.at(5)))).toBe('done')
  })

  test('of a sheet that is not there is refused', () => {
    const answer = based({}).send('SetShopFigure', { sheet: 'none', dropOver: 'wet' })
    expect(said(answer)).toBe('unknownThing')
  })
})
