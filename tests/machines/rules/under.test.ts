import { describe, expect, test } from 'vitest'
import { lanesOf } from '../../../kiosk/lanes/lanes.ts'
import {
  around,
  BASE_CUP,
  CLEAR_CUP,
  coat,
  DOOR,
  outsideOf,
  refusalOf,
  SEALER_CUP,
  said,
  startCoat,
  vanWith,
} from '../../support/given.ts'
import { BASE, CLEAR, SEALER } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

const ONE = { least: 1, planned: 1, most: 3 }
const at20 = (minutes: number) => [{ atC: 20, minutes }]
const BASE_STEP = { stage: 'base', sheet: BASE.sheet, coats: ONE }
const CLEAR_STEP = { stage: 'clear', sheet: CLEAR.sheet, coats: ONE }
const SEALER_STEP = { stage: 'sealer', sheet: SEALER.sheet }
const override = { reason: 'asked for' }
const waits = (shop: Shop, min: number) => lanesOf(shop.state, minute(min))[0]?.waits

describe('what a product may go over', () => {
  const sealed = (over: object) =>
    coat(
      vanWith([SEALER_STEP, BASE_STEP], [{ ...BASE, over: [over] }, CLEAR, SEALER]),
      SEALER_CUP,
      1,
      3,
    )

  test('never: no abrading helps, and an override is kept', () => {
    const shop = sealed({ stage: 'sealer', recoatWithin: 'never' }).at(60)
    const refusal = refusalOf(startCoat(BASE_CUP)(shop.fork()))
    expect([refusal.code, refusal.message]).toEqual([
      'windowShut',
      'Rear door: Its sheet says that it must never go over this product.',
    ])
    expect(waits(shop, 60)).toMatchObject({ for: 'abrade', why: 'never' })
    shop.do('AbradePanel', { panel: DOOR, grit: 800 })
    expect(said(startCoat(BASE_CUP)(shop.fork()))).toBe('windowShut')
    expect(said(startCoat(BASE_CUP, { override })(shop))).toBe('done')
  })

  test('by its sheet before by its stage', () => {
    const own = { sheet: SEALER.sheet, flashBeforeNext: at20(40) }
    expect(around(sealed(own), 43, startCoat(BASE_CUP))).toEqual(['flashNotOver', 'done'])
    const other = { sheet: 'sealer-other', recoatWithin: 'never' }
    expect(said(startCoat(BASE_CUP)(sealed(other).at(18)))).toBe('done')
  })

  test('names either a stage or a sheet', () => {
    expect(() => sealed({ recoatWithin: 'never' })).toThrow('either stage or sheet')
    expect(() => sealed({ stage: 'sealer', sheet: SEALER.sheet })).toThrow('either stage or sheet')
  })
})

describe('an old finish', () => {
  const PREP = [{ over: 'existing', gritMin: 800, gritMax: 1200, pads: ['gray'] }]
  const van = (operation: string, prepFor: readonly object[] = PREP) => {
    const shop = vanWith([BASE_STEP, CLEAR_STEP], [{ ...BASE, prepFor }, CLEAR])
    const panel = { job: 'JJJJ2222', panel: 'HHHH2222', name: 'Hood', operation }
    shop.do('AddPanel', { ...panel, route: [BASE_STEP, CLEAR_STEP] })
    return shop
  }
  const start = (shop: Shop) =>
    said(shop.fork().send('StartCoat', { panels: ['HHHH2222'], cup: BASE_CUP }))

  test('is abraded as the sheet to come asks for before its first coat', () => {
    const shop = van('blend')
    expect(start(shop)).toBe('windowShut')
    shop.do('AbradePanel', { panel: 'HHHH2222', grit: 500 })
    expect(start(shop)).toBe('windowShut')
    shop.do('AbradePanel', { panel: 'HHHH2222', pad: 'gray' })
    expect(start(shop)).toBe('done')
  })

  test('is not asked about on a new part, or where the sheet says nothing of it', () => {
    expect(start(van('new-part'))).toBe('done')
    expect(start(van('blend', [{ over: 'sealer', gritMin: 800 }]))).toBe('done')
  })
})

describe('the face after the edges', () => {
  const edged = () =>
    coat(vanWith([{ ...BASE_STEP, face: 'edges' }, BASE_STEP, CLEAR_STEP]), BASE_CUP, 1, 3)

  test('wants the overspray abraded: a touch, and no whole abrading', () => {
    const shop = edged().at(20)
    const refusal = refusalOf(startCoat(BASE_CUP)(shop.fork()))
    expect([refusal.code, refusal.message]).toEqual([
      'windowShut',
      'Rear door: Abrade the overspray of the edges off this face first.',
    ])
    expect(waits(shop, 20)).toMatchObject({ for: 'abrade', why: 'overspray' })
    shop.do('AbradePanel', { panel: DOOR, overspray: true })
    expect(said(startCoat(BASE_CUP)(shop))).toBe('done')
  })

  test('is content with an abrading of the whole', () => {
    const shop = edged().at(20)
    shop.do('AbradePanel', { panel: DOOR, grit: 800 })
    expect(said(startCoat(BASE_CUP)(shop))).toBe('done')
  })

  test('asks once: the next coat of the face wants nothing', () => {
    const shop = edged().at(20)
    shop.do('AbradePanel', { panel: DOOR, overspray: true })
    coat(shop, BASE_CUP, 20, 22)
    expect(said(startCoat(CLEAR_CUP)(shop.at(40)))).toBe('done')
  })

  test('the touch reopens no window', () => {
    const shop = edged().at(2_000)
    shop.do('AbradePanel', { panel: DOOR, overspray: true })
    expect(said(startCoat(BASE_CUP)(shop))).toBe('windowShut')
  })
})

describe('a clear on a spot', () => {
  test('ends off an edge or body line, which is marked once', () => {
    const shop = vanWith([
      { ...CLEAR_STEP, face: 'spot', coats: { least: 2, planned: 2, most: 3 } },
    ])
    const marks = () => outsideOf(shop.do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })[0])
    expect(marks()).toEqual(['openFade'])
    shop.at(2).do('FinishCoat', { panels: [DOOR] })
    shop.at(12)
    expect(marks()).toEqual([])
  })
})

describe('a wet bed', () => {
  const BLENDER = {
    ...BASE,
    sheet: 'blender',
    name: 'Wet bed',
    stage: 'blender',
    recoatWithin: at20(10),
  }

  test('is sprayed into at once, and only while it is wet', () => {
    const shop = vanWith(
      [{ stage: 'blender', sheet: 'blender', coats: ONE }, BASE_STEP],
      [BLENDER, BASE],
    )
    shop.do('MixCup', { cup: 'WWWW2222', sheet: 'blender', totalMl: 200 })
    coat(shop, 'WWWW2222', 1, 3)
    expect(said(startCoat(BASE_CUP)(shop.fork().at(3)))).toBe('done')
    expect(around(shop, 13, startCoat(BASE_CUP))).toEqual(['done', 'windowShut'])
  })
})

describe('what is left of a wet bed beside the spot', () => {
  const BED = { ...BASE, sheet: 'bed', name: 'Wet bed', stage: 'blender', recoatWithin: at20(10) }
  const SLOW = { ...BED, flashBeforeNext: at20(25) }
  const spotted = (bed: object) => {
    const spot = { ...BASE_STEP, face: 'spot' }
    const shop = vanWith(
      [{ stage: 'blender', sheet: 'bed', coats: ONE }, spot, CLEAR_STEP],
      [bed, BASE, CLEAR],
    )
    shop.do('MixCup', { cup: 'WWWW2222', sheet: 'bed', totalMl: 200 })
    return coat(coat(shop, 'WWWW2222', 1, 3), BASE_CUP, 4, 6)
  }

  test('dries before the clear by its own flash, and shuts no window', () => {
    expect(around(spotted(BED), 21, startCoat(CLEAR_CUP))).toEqual(['flashNotOver', 'done'])
    expect(around(spotted(SLOW), 28, startCoat(CLEAR_CUP))).toEqual(['flashNotOver', 'done'])
  })
})

describe('air movers', () => {
  const WATER = { ...BASE, medium: 'waterborne', flashBetween: at20(20), flashBeforeNext: at20(20) }
  const wet = (more: object) =>
    coat(vanWith([BASE_STEP, CLEAR_STEP], [{ ...WATER, ...more }, CLEAR]), BASE_CUP, 1, 3)

  test('shorten a waterborne flash to the figure of the sheet, while they are on', () => {
    const shop = wet({ forcedDry: { minutes: 5 } })
    expect(around(shop.fork(), 23, startCoat(CLEAR_CUP))).toEqual(['flashNotOver', 'done'])
    const on = shop.fork()
    on.do('SetAirMovers', { zone: 'booth', on: true })
    expect(around(on, 8, startCoat(CLEAR_CUP))).toEqual(['flashNotOver', 'done'])
    // A fifth of the forced minutes, then off: sixteen of twenty are left.
    on.at(4).do('SetAirMovers', { zone: 'booth', on: false })
    expect(around(on, 20, startCoat(CLEAR_CUP))).toEqual(['flashNotOver', 'done'])
  })

  test('are slower in air that takes up less water than the sheet’s', () => {
    const shop = wet({ forcedDry: { minutes: 5 } })
    shop.do('ReadClimate', { zone: 'booth', airC: 20, rh: 0.75 })
    shop.do('SetAirMovers', { zone: 'booth', on: true })
    expect(around(shop, 13, startCoat(CLEAR_CUP))).toEqual(['flashNotOver', 'done'])
  })

  test('without a figure matte counts after the floor, and is marked', () => {
    const shop = wet({ floorMin: 4 })
    const look = (copy: Shop) => copy.do('InspectCoat', { panel: DOOR, result: 'matt' })
    const still = shop.fork().at(6)
    look(still)
    expect(said(startCoat(CLEAR_CUP)(still))).toBe('flashNotOver')
    shop.do('SetAirMovers', { zone: 'booth', on: true })
    look(shop.at(6))
    expect(around(shop, 7, startCoat(CLEAR_CUP))).toEqual(['flashNotOver', 'done'])
    const [start] = shop.at(7).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    expect(outsideOf(start)).toEqual(['forcedNoFigure'])
  })

  test('change nothing of a solvent-borne film', () => {
    const shop = coat(vanWith([BASE_STEP, CLEAR_STEP]), BASE_CUP, 1, 3)
    shop.do('SetAirMovers', { zone: 'booth', on: true })
    expect(around(shop, 18, startCoat(CLEAR_CUP))).toEqual(['flashNotOver', 'done'])
  })

  test('said again are answered and not recorded', () => {
    const shop = wet({})
    shop.do('SetAirMovers', { zone: 'booth', on: true })
    expect(shop.do('SetAirMovers', { zone: 'booth', on: true })).toEqual([])
  })
})
