import { describe, expect, test } from 'vitest'
import {
  addPanel,
  air,
  around,
  BASE_CLEAR,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_ONLY,
  DOOR,
  MS,
  mix,
  refusalOf,
  said,
  startCoat,
  vanWith,
  WING,
} from '../../support/given.ts'
import type { Shop } from '../../support/shop.ts'

/** What was measured and forbade goes on forbidding; what was never measured refuses nothing. */

const start = startCoat(CLEAR_CUP)
const override = { reason: 'CLIMATE' }

/** A van whose clear may only go on from 15 °C, and a booth of so many degrees at minute 1. */
const van = (airC: number): Shop => air(vanWith(CLEAR_ONLY), 1, airC)

describe('a reading of the air that forbade', () => {
  test('forbids for four hours: 6 °C and damp at 29 minutes is no warmer at 31', () => {
    const cold = air(vanWith(CLEAR_ONLY), 1, 6, 0.99)
    expect([29, 30, 31, 50].map((min) => said(start(cold.fork().at(min))))).toEqual(
      Array(4).fill('airOutside'),
    )
    mix(cold.at(230), 'CCCC3333', 'clear-2k')
    expect(around(cold, 241, startCoat('CCCC3333'))).toEqual(['airOutside', 'done'])
    const [late] = cold
      .fork()
      .at(241)
      .do('StartCoat', { panels: [DOOR], cup: 'CCCC3333' })
    expect(late?.notJudged).toEqual(['airOutside', 'dewPoint'])
  })

  test('until a newer one', () => {
    const shop = van(10).at(50)
    expect(said(start(shop.fork()))).toBe('airOutside')
    expect(said(start(air(shop, 50, 15)))).toBe('done')
  })

  test('one that permitted is not judged from thirty minutes on, and refuses nothing', () => {
    const shop = van(20)
    const judged = (min: number) =>
      shop
        .fork()
        .at(min)
        .do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })[0]?.notJudged
    expect([judged(31 - MS), judged(31)]).toEqual([['dewPoint'], ['airOutside', 'dewPoint']])
  })

  test('it is a reading of the zone where the panel is', () => {
    const shop = air(van(20), 1, 10, 0.5, { zone: 'bay' }).at(45)
    expect(said(start(shop.fork()))).toBe('done')
    shop.do('MovePanel', { panel: DOOR, zone: 'bay' })
    expect(said(start(shop))).toBe('airOutside')
  })

  test('one that is voided forbids nothing', () => {
    const shop = vanWith(CLEAR_ONLY)
    const [read] = shop.at(1).do('ReadClimate', { zone: 'booth', airC: 1, rh: 0.5 })
    shop.at(40).do('VoidEntry', { entry: read?.id, reason: 'held in the hand' })
    expect(said(start(shop))).toBe('done')
  })
})

describe('a surface that forbade', () => {
  // Magnus, WMO-No. 8 (2008): air of 20 °C and 50 % RH has its dew point at 9.26 °C.
  const cold = (): Shop => {
    const shop = van(20)
    shop.at(2).do('ReadPart', { panel: DOOR, partC: 10 })
    return shop
  }

  test('forbids for four hours from when it was judged', () => {
    const shop = mix(cold().at(200), 'CCCC3333', 'clear-2k')
    expect([12, 45].map((min) => said(start(cold().at(min))))).toEqual(['dewPoint', 'dewPoint'])
    expect(around(shop, 242, startCoat('CCCC3333'))).toEqual(['dewPoint', 'done'])
  })

  test('until it is measured again, or the air is so dry that it would not forbid any more', () => {
    const shop = cold().at(40)
    const warmed = shop.fork()
    warmed.do('ReadPart', { panel: DOOR, partC: 15 })
    expect(said(start(warmed))).toBe('done')
    expect(said(start(air(shop.fork(), 40, 20, 0.5)))).toBe('dewPoint')
    expect(said(start(air(shop.fork(), 40, 20, 0.4)))).toBe('done')
  })

  test('one that was measured in unknown air never forbade', () => {
    const shop = vanWith(CLEAR_ONLY)
    shop.at(2).do('ReadPart', { panel: DOOR, partC: 10 })
    expect(said(start(air(shop, 40, 20)))).toBe('done')
  })
})

describe('an override of the air', () => {
  /** A cold booth in which base was started in spite of it. */
  function overridden(): Shop {
    const shop = vanWith(BASE_CLEAR)
    addPanel(shop, BASE_CLEAR, { panel: WING, name: 'Wing' })
    mix(air(shop, 1, 4), 'CCCC3333', 'base-solvent')
    shop.at(2).do('StartCoat', { panels: [DOOR], cup: BASE_CUP, override })
    shop.at(4).do('FinishCoat', { panels: [DOOR] })
    return shop
  }
  const wing = (shop: Shop, more: object = {}) =>
    shop.send('StartCoat', { panels: [WING], cup: BASE_CUP, ...more })

  test('covers the job, zone and stage until the next reading, each coat marked', () => {
    const answer = wing(overridden().at(5))
    expect('drafts' in answer && answer.drafts[0]?.override).toEqual({
      reason: 'CLIMATE',
      codes: ['airOutside'],
      broken: [
        {
          code: 'airOutside',
          limit: { minC: 15, maxC: 32, maxRh: 0.85 },
          value: { airC: 4, rh: 0.5 },
        },
      ],
    })
  })

  test('not after the next reading, not another zone, and not another job', () => {
    expect(said(wing(air(overridden(), 5, 4)))).toBe('airOutside')
    const moved = air(overridden(), 5, 4, 0.5, { zone: 'bay' })
    moved.do('MovePanel', { panel: WING, zone: 'bay' })
    expect(said(wing(moved))).toBe('airOutside')
    const shop = overridden().at(5)
    shop.do('OpenJob', { job: 'KKKK2222', title: 'Another van' })
    const other = { job: 'KKKK2222', panel: 'NNNN2222', name: 'Roof', operation: 'repair' }
    shop.do('AddPanel', { ...other, route: BASE_CLEAR })
    expect(said(shop.send('StartCoat', { panels: ['NNNN2222'], cup: BASE_CUP }))).toBe('airOutside')
  })

  test('not another stage', () => {
    const shop = overridden()
    shop.at(5).do('ReachCover', { panel: DOOR, override })
    const clear = shop.at(55).send('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    expect(said(clear)).toBe('airOutside')
  })

  test('nothing else is covered by it', () => {
    const shop = overridden()
    const again = (min: number) =>
      shop
        .fork()
        .at(min)
        .send('StartCoat', { panels: [DOOR], cup: BASE_CUP })
    expect(refusalOf(again(5)).code).toBe('flashNotOver')
  })

  test('one that was voided covers nothing', () => {
    const shop = vanWith(BASE_CLEAR)
    addPanel(shop, BASE_CLEAR, { panel: WING, name: 'Wing' })
    air(shop, 1, 4)
    const [started] = shop.at(2).do('StartCoat', { panels: [DOOR], cup: BASE_CUP, override })
    shop.at(3).do('VoidEntry', { entry: started?.id, reason: 'wrong panel' })
    expect(said(wing(shop))).toBe('airOutside')
  })
})
