import { describe, expect, test } from 'vitest'
import {
  air,
  CLEAR_CUP,
  CLEAR_ONLY,
  DOOR,
  MS,
  outsideOf,
  queued,
  refusalOf,
  said,
  startCoat,
  vanWith,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

const start = startCoat(CLEAR_CUP)
/** Damp air is too near to its dew point as well, whatever a sheet allows: that is another rule. */
const inDamp = startCoat(CLEAR_CUP, { override: { reason: 'CLIMATE', codes: ['dewPoint'] } })
const van = (more: object = {}): Shop => vanWith(CLEAR_ONLY, [BASE, { ...CLEAR, ...more }])
const notJudged = (shop: Shop) =>
  shop.do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })[0]?.notJudged

describe("the sheet's limits of air", () => {
  // The invented clear allows 15 to 35 °C and at most 85 % RH.
  test.each([
    ['the coldest allowed', 15, 0.5, 'done'],
    ['colder', 14.9, 0.5, 'airOutside'],
    ['the warmest allowed', 35, 0.5, 'done'],
    ['warmer', 35.1, 0.5, 'airOutside'],
    ['the most humid allowed', 20, 0.85, 'done'],
    ['more humid', 20, 0.86, 'airOutside'],
  ])('%s', (_, airC, rh, want) => {
    expect(said(inDamp(air(van(), 1, airC, rh)))).toBe(want)
  })

  test('the refusal says what is and what may be', () => {
    expect(refusalOf(start(air(van(), 1, 40, 0.9))).message).toBe(
      'Rear door: The air is 40 °C and 90 % RH; the sheet allows from 15 °C, up to 35 °C, up to 85 % RH.',
    )
  })

  test.each([
    ['only a least temperature', { minC: 15 }, 40, 0.99, 'done'],
    ['only a humidity', { maxRh: 0.6 }, 20, 0.7, 'airOutside'],
    ['none', {}, -10, 1, 'done'],
  ])('a sheet may give %s', (_, limits, airC, rh, want) => {
    expect(said(inDamp(air(van({ limits }), 1, airC, rh)))).toBe(want)
  })

  test('what is outside is kept with the limits that the sheet gives, and no others', () => {
    const limit = (limits: object) => {
      const shop = air(van({ limits }), 1, 50, 0.9)
      const [draft] = queued(shop.at(60), 2, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
      return draft?.outside?.[0]
    }
    const value = { airC: 50, rh: 0.9 }
    expect(limit({ maxC: 35 })).toEqual({
      code: 'airOutside',
      limit: { maxC: 35, maxRh: 1 },
      value,
    })
    expect(limit({ maxRh: 0.8 })).toEqual({ code: 'airOutside', limit: { maxRh: 0.8 }, value })
  })

  test('are judged by a reading under thirty minutes old, else not judged, which is not outside', () => {
    const mild = air(van(), 1, 20)
    expect(notJudged(mild.fork().at(31 - MS))).toEqual(['dewPoint'])
    expect(notJudged(mild.at(31))).toEqual(['airOutside', 'dewPoint'])
    expect(notJudged(van())).toEqual(['airOutside', 'dewPoint'])
  })

  test('a sheet without limits has nothing to judge', () => {
    expect(notJudged(van({ limits: {} }))).toEqual(['dewPoint'])
  })

  test('a reading from after the start judges nothing', () => {
    const shop = air(van(), 20, 10)
    const [draft] = queued(shop.at(60), 19, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    expect([outsideOf(draft), draft?.notJudged]).toEqual([[], ['airOutside', 'dewPoint']])
  })

  test('it is the air of the zone in which the panel is', () => {
    const shop = air(air(van(), 1, 20), 1, 10, 0.5, { zone: 'bay' })
    expect(said(start(shop.fork()))).toBe('done')
    shop.do('MovePanel', { panel: DOOR, zone: 'bay' })
    expect(said(start(shop))).toBe('airOutside')
  })

  test('the entry keeps the air that it was judged by', () => {
    const shop = air(van(), 1, 20, 0.5, { surfaceC: 21 })
    const [draft] = shop.do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    expect(draft?.data.judged).toMatchObject({ airC: 20, rh: 0.5, dewMarginC: 11.74 })
    expect(draft?.notJudged).toBeUndefined()
  })
})

describe('dew point', () => {
  // Magnus, WMO-No. 8 (2008): air of 20 °C and 50 % RH has its dew point at 9.26 °C.
  test.each([
    [12.2, 'dewPoint'],
    [12.3, 'done'],
  ])('a surface of %f °C in air whose dew point is 9.26 °C', (surfaceC, want) => {
    expect(said(start(air(van(), 1, 20, 0.5, { surfaceC })))).toBe(want)
  })

  test('air that is itself within three degrees of it: from about 84 % RH at 20 °C, 82 % at 5 °C', () => {
    const bare = (airC: number, rh: number) => said(start(air(van({ limits: {} }), 1, airC, rh)))
    expect([bare(20, 0.82), bare(20, 0.835), bare(20, 0.97)]).toEqual([
      'done',
      'dewPoint',
      'dewPoint',
    ])
    expect([bare(5, 0.8), bare(5, 0.825)]).toEqual(['done', 'dewPoint'])
  })

  test('damp air refuses also over a warm surface, for four hours or until it is read again', () => {
    const shop = air(van({ limits: {} }), 1, 20, 0.97, { surfaceC: 26 })
    expect([2, 45].map((min) => said(start(shop.fork().at(min))))).toEqual(['dewPoint', 'dewPoint'])
    expect(refusalOf(start(shop.fork().at(2))).message).toBe(
      'Rear door: The air itself is 0.49 °C above the dew point; it needs at least 3 °C.',
    )
    expect(said(start(air(shop, 45, 20, 0.6)))).toBe('done')
  })

  test('the refusal says how far above, and how far is wanted', () => {
    const shop = air(van(), 1, 20, 0.5, { surfaceC: 11 })
    expect(refusalOf(start(shop)).message).toBe(
      'Rear door: The surface is 1.74 °C above the dew point; it needs at least 3 °C.',
    )
  })

  test('a shop may ask for more than three degrees, and not for less', () => {
    const shop = air(van(), 1, 20, 0.5, { surfaceC: 13 })
    expect(said(start(shop.fork()))).toBe('done')
    shop.do('ChangeSettings', { limits: { dewMarginC: 4 } })
    expect(said(start(shop))).toBe('dewPoint')
    expect(() => shop.parse('ChangeSettings', { limits: { dewMarginC: 2 } })).toThrow(
      "data.limits.dewMarginC: 2 won't work. Use a number from 3 to 10 °C.",
    )
  })

  describe('a part reading that permitted', () => {
    const touched = () => {
      const shop = air(van({ potLife: [{ atC: 20, minutes: 300 }] }), 1, 20)
      shop.at(2).do('ReadPart', { panel: DOOR, partC: 15 })
      return shop
    }
    const open = (shop: Shop, min: number) => notJudged(shop.fork().at(min))

    test('holds an hour in air that stays within 2 °C and 5 % RH, then it is not judged', () => {
      const shop = air(air(touched(), 25, 22, 0.55), 50, 18, 0.45)
      expect(open(shop, 62 - MS)).toBeUndefined()
      expect(open(shop, 62)).toEqual(['dewPoint'])
    })

    test.each([
      [22.1, 0.5],
      [17.9, 0.5],
      [20, 0.551],
      [20, 0.449],
    ])('holds ten minutes once the air was read at %f °C and %f', (airC, rh) => {
      const shop = air(touched(), 11, airC, rh)
      expect(open(shop, 12 - MS)).toBeUndefined()
      expect(open(shop, 12)).toEqual(['dewPoint'])
    })

    test('holds ten minutes once the panel was moved, or where no air was read with it', () => {
      const moved = touched()
      moved.at(5).do('ReadClimate', { zone: 'bay', airC: 20, rh: 0.5 })
      moved.do('MovePanel', { panel: DOOR, zone: 'bay' })
      expect(open(moved, 12)).toEqual(['dewPoint'])
      const alone = van()
      alone.at(2).do('ReadPart', { panel: DOOR, partC: 15 })
      expect(open(air(alone, 3, 20), 12)).toEqual(['dewPoint'])
    })
  })

  test('a surface without fresh air is not judged either', () => {
    const shop = van()
    shop.at(2).do('ReadPart', { panel: DOOR, partC: 10 })
    expect(notJudged(shop)).toEqual(['airOutside', 'dewPoint'])
  })

  test('air without any humidity has no dew point', () => {
    expect(notJudged(air(van(), 1, 20, 0, { surfaceC: 15 }))).toEqual(['dewPoint'])
  })
})
