import { describe, expect, test } from 'vitest'
import {
  air,
  around,
  BASE_CLEAR,
  BASE_CUP,
  bells,
  CLEAR_CUP,
  coat,
  DOOR,
  dueMin,
  MS,
  minuteOf,
  outsideOf,
  queued,
  refusalOf,
  said,
  startCoat,
  vanWith,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

/** A base that must go matt: 8 min is a forecast, 3 min the floor. One coat, finished at minute 3. */
const MATT_BASE = { ...BASE, flashBy: 'appearance', floorMin: 3 }
const wetBase = (more: object = {}): Shop =>
  coat(vanWith(BASE_CLEAR, [{ ...MATT_BASE, ...more }, CLEAR]), BASE_CUP, 1, 3)
const look = (shop: Shop, min: number, result: string): Shop => {
  shop.at(min).do('InspectCoat', { panel: DOOR, result })
  return shop
}

describe('a base that must go matte', () => {
  test('the bell says LOOK at the forecast, not that the coat is ready', () => {
    expect(bells(wetBase(), 'look', 'coatReady')).toEqual([['look', 11]])
  })

  test('however long the wait, the coat needs a look', () => {
    const refusal = refusalOf(startCoat(BASE_CUP)(wetBase().at(300)))
    expect(refusal.code).toBe('lookFirst')
    expect(refusal.clearsAt).toBeUndefined()
    expect(refusal.overridable).toBe(true)
  })

  test('seen matte after the floor, the next coat is taken at once, also before the forecast', () => {
    const shop = look(wetBase(), 7, 'matt')
    expect(said(startCoat(BASE_CUP)(shop))).toBe('done')
    expect(bells(shop, 'look', 'coatReady')).toEqual([])
  })

  test('seen matte before the floor, the floor still counts', () => {
    const shop = look(wetBase(), 4, 'matt')
    expect(around(shop, 6, startCoat(BASE_CUP))).toEqual(['flashNotOver', 'done'])
    expect(bells(shop, 'look', 'coatReady')).toEqual([['coatReady', 6]])
  })

  test('before the floor both the floor and the look are missing', () => {
    const refusal = refusalOf(startCoat(BASE_CUP)(wetBase().at(6 - MS)))
    expect([refusal.code, refusal.also]).toEqual(['flashNotOver', ['lookFirst']])
  })

  test('without a floor a look alone opens the gate', () => {
    expect(said(startCoat(BASE_CUP)(look(wetBase({ floorMin: 0 }), 3, 'matt')))).toBe('done')
  })

  test('"not yet" puts the look off by two minutes from when it was said', () => {
    const shop = look(wetBase(), 12, 'notYet')
    expect(dueMin(shop, 'look')).toBe(14)
    expect(dueMin(look(shop, 14, 'notYet'), 'look')).toBe(16)
    expect(said(startCoat(BASE_CUP)(shop.at(16)))).toBe('lookFirst')
  })

  test('"not yet" long before the forecast leaves the forecast', () => {
    expect(dueMin(look(wetBase(), 5, 'notYet'), 'look')).toBe(11)
  })

  test('"not yet" takes back a "matt" said too soon', () => {
    const shop = look(look(wetBase(), 7, 'matt'), 8, 'notYet')
    expect(said(startCoat(BASE_CUP)(shop))).toBe('lookFirst')
  })

  test.each(['good', 'nibsOut', 'run', 'dry', 'mottle', 'fisheye', 'notCovered'])(
    'what else is seen ("%s") does not open the gate',
    (result) => {
      expect(said(startCoat(BASE_CUP)(look(wetBase(), 12, result)))).toBe('lookFirst')
    },
  )

  test('each coat needs its own look', () => {
    const shop = coat(look(wetBase(), 7, 'matt'), BASE_CUP, 8, 10)
    expect(said(startCoat(CLEAR_CUP)(shop.at(60 - MS)))).toBe('lookFirst')
    expect(dueMin(shop, 'look')).toBe(25)
  })

  test('a coat started without a look that arrives late is marked as not looked at', () => {
    const shop = wetBase()
    const [draft] = queued(shop.at(20), 12, 'StartCoat', { panels: [DOOR], cup: BASE_CUP })
    expect(outsideOf(draft)).toEqual(['lookFirst'])
    expect(minuteOf(Number(draft?.outside?.[0]?.limit))).toBe(11)
  })

  test('in air in which it does not flash there is no forecast, but a look still opens the gate', () => {
    const shop = air(wetBase({ medium: 'waterborne', limits: {} }), 3, 20, 0.96)
    expect(bells(shop, 'look', 'coatReady')).toEqual([])
    expect(said(startCoat(BASE_CUP)(shop.at(8)))).toBe('lookFirst')
    // Damp air is too near to its dew point as well: that is another rule.
    const override = { reason: 'CLIMATE', codes: ['dewPoint'] }
    expect(said(startCoat(BASE_CUP, { override })(look(shop, 9, 'matt')))).toBe('done')
  })
})

describe('looking at a panel', () => {
  test('there is something to look at once a coat is finished, not before and not while it runs', () => {
    const shop = vanWith(BASE_CLEAR)
    const ask = { panel: DOOR, result: 'good' }
    expect(shop.refused('InspectCoat', ask)).toBe('nothingThere')
    shop.at(1).do('StartCoat', { panels: [DOOR], cup: BASE_CUP })
    expect(shop.refused('InspectCoat', ask)).toBe('coatRunning')
    shop.at(2).do('FinishCoat', { panels: [DOOR] })
    expect(shop.do('InspectCoat', ask)).toHaveLength(1)
  })
})
