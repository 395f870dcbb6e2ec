import { describe, expect, test } from 'vitest'
import { saturationHpa } from '../../../machines/clock/moistAir.ts'
import {
  addPanel,
  air,
  around,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_ONLY,
  coat,
  DOOR,
  dueMin,
  JOB,
  mix,
  outsideOf,
  panelOf,
  refusalOf,
  said,
  shopWith,
  startCoat,
  vanWith,
  WING,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

/** What the rules say between coats, where no other test says it to the letter. */

const at20 = (minutes: number) => [{ atC: 20, minutes }]
const ONE = { least: 1, planned: 1, most: 1 }
const BASE_STEP = { stage: 'base', sheet: BASE.sheet, coats: { least: 1, planned: 1, most: 3 } }
const CLEAR_STEP = { stage: 'clear', sheet: CLEAR.sheet }

test('several strokes of a blend are one coat, with how far it reaches', () => {
  const shop = vanWith([BASE_STEP])
  shop.at(1).do('StartCoat', { panels: [DOOR], cup: BASE_CUP, kind: 'blend' })
  shop.at(3).do('FinishCoat', { panels: [DOOR], reachCm: 40 })
  expect(panelOf(shop).coats.map(({ kind, reachCm }) => [kind, reachCm])).toEqual([['blend', 40]])
})

describe('a waterborne film', () => {
  // Magnus, WMO-No. 8 (2008), as the clocks use it; half of what the air can take up at 20 °C and 50 %.
  const WATER = { ...BASE, medium: 'waterborne', limits: {}, coats: { ...ONE, most: 3 } }
  const wet = (more: object = {}) =>
    coat(vanWith([BASE_STEP, CLEAR_STEP], [{ ...WATER, ...more }, CLEAR]), BASE_CUP, 1, 3)
  const flash = (shop: Shop) => dueMin(shop, 'coatReady')
  const movers = (shop: Shop) => {
    shop.at(3).do('SetAirMovers', { zone: 'booth', on: true })
    return shop
  }
  const part = (shop: Shop, partC: number) => {
    shop.at(3).do('ReadPart', { panel: DOOR, partC })
    return shop
  }

  test('waterborne goes by the slower of the air’s drying power and of the table at that temperature', () => {
    const flashBeforeNext = [...at20(15), { atC: 10, minutes: 25 }]
    // In air of 75 % it dries half as fast, which is slower than the table says for 20 °C.
    expect(flash(air(wet({ flashBeforeNext }), 3, 20, 0.75))).toBe(3 + 30)
    // In dry air of 10 °C it would dry faster than the table says for 10 °C.
    const byAir = (15 * saturationHpa(20) * 0.5) / (saturationHpa(10) * 0.8)
    expect(byAir).toBeLessThan(25)
    expect(flash(air(wet({ flashBeforeNext }), 3, 10, 0.2))).toBe(3 + 25)
  })

  test('water leaves a cold part as slowly as its own vapor pressure allows', () => {
    const power = saturationHpa(15) - 0.5 * saturationHpa(20)
    const minutes = (15 * 0.5 * saturationHpa(20)) / power
    expect(minutes).toBeGreaterThan(30)
    expect(flash(part(air(wet(), 3, 20, 0.5), 15)) ?? 0).toBeLessThan(3 + 2 * minutes)
    // Kept fresh: the part is measured again before it is thirty minutes old.
    const shop = part(air(wet(), 3, 20, 0.5), 15)
    air(shop, 25, 20, 0.5).do('ReadPart', { panel: DOOR, partC: 15 })
    expect(flash(shop) ?? 0).toBeCloseTo(3 + minutes, 1)
  })

  test('at a twentieth of the reference or less it does not flash, movers or not', () => {
    const reference = 0.5 * saturationHpa(20)
    const share = (partC: number) => (saturationHpa(partC) - 0.5 * saturationHpa(20)) / reference
    // 9.98 °C is a twentieth above the dew point's pressure, 10.02 °C a little more.
    const [least, more] = [9.9, 10.1].map((from) => {
      let c = from
      while (share(c) > 0.05) c -= 0.001
      while (share(c) <= 0.05) c += 0.001
      return from === 9.9 ? c - 0.001 : c
    }) as [number, number]
    expect([share(least) <= 0.05, share(more) > 0.05, more - least]).toEqual([
      true,
      true,
      expect.closeTo(0.001, 5),
    ])
    for (const forcedDry of [undefined, { minutes: 5 }]) {
      const film = (partC: number) => {
        const shop = part(air(wet(forcedDry ? { forcedDry } : {}), 3, 20, 0.5), partC)
        return forcedDry ? movers(shop) : shop
      }
      const refusal = refusalOf(startCoat(CLEAR_CUP)(film(least).at(32)))
      expect([refusal.code, refusal.clearsAt === undefined]).toEqual(['flashNotOver', false])
      const used = (partC: number) => {
        const shop = film(partC)
        // The part is warm from minute 23 on: what is left then has its full speed.
        shop.at(23).do('ReadPart', { panel: DOOR, partC: 20 })
        return flash(air(shop, 23, 20, 0.5)) ?? 0
      }
      const whole = forcedDry ? 5 : 15
      expect(used(least)).toBe(23 + whole)
      expect(used(more)).toBeLessThan(23 + whole)
    }
  })

  test('under air movers air that is drier than the sheet’s shortens the forced figure no further', () => {
    const forced = (rh: number) => flash(movers(air(wet({ forcedDry: { minutes: 5 } }), 3, 20, rh)))
    expect([forced(0.1), forced(0.5), forced(0.6)]).toEqual([3 + 5, 3 + 5, 3 + 6.25])
  })
})

describe('a pass of two panels', () => {
  /** The side's share ends at 16, the door's at 20. */
  function passed(route: readonly object[]): Shop {
    const shop = shopWith([CLEAR])
    addPanel(shop, route, { areaM2: 2 })
    addPanel(shop, route, { panel: WING, name: 'Side', areaM2: 2 })
    mix(shop, CLEAR_CUP, CLEAR.sheet)
    shop.at(12).do('StartCoat', { panels: [WING, DOOR], cup: CLEAR_CUP })
    return shop
  }

  test('the flash before heat of every panel of a pass counts from the end of the pass', () => {
    const one = [{ stage: 'clear', sheet: CLEAR.sheet, coats: ONE }, { stage: 'cure' }]
    const shop = passed(one)
    shop.at(20).do('FinishCoat', { panels: [WING, DOOR] })
    shop.do('SetHeatLimit', { job: JOB, maxC: null })
    const heat = (panels: readonly string[]) => (copy: Shop) =>
      copy.send('StartCure', { panels, mode: 'bake', setC: 65 })
    shop.do('MovePanel', { panel: DOOR, zone: 'bay', override: { reason: 'asked for' } })
    // Its own share ended at 16: ten minutes before heat count from 20.
    expect(around(shop, 30, heat([WING]))).toEqual(['flashNotOver', 'done'])
  })

  test('a panel of a pass whose end was touched flashes from its own end', () => {
    const shop = passed(CLEAR_ONLY)
    shop.at(16).do('FinishCoat', { panels: [WING] })
    shop.at(20).do('FinishCoat', { panels: [DOOR] })
    const next = (panel: string) => startCoat(CLEAR_CUP, { panels: [panel] })
    expect(around(shop, 26, next(WING))).toEqual(['flashNotOver', 'done'])
    expect(around(shop, 30, next(DOOR))).toEqual(['flashNotOver', 'done'])
  })
})

describe('a nib', () => {
  function van(kind: string, sheet: object = BASE): Shop {
    const shop = shopWith([sheet, CLEAR])
    const colours = [{ key: 'body', code: 'S-1', kind }]
    shop.do('OpenJob', { job: JOB, title: 'Van', colours })
    addPanel(shop, [{ ...BASE_STEP, colour: 'body', coats: ONE }, CLEAR_STEP])
    mix(shop, BASE_CUP, BASE.sheet, { job: JOB, colour: 'body' })
    return coat(mix(shop, CLEAR_CUP, CLEAR.sheet), BASE_CUP, 1, 3)
  }
  const denib = (shop: Shop) => shop.send('DenibPanel', { panel: DOOR, grit: 1500 })

  test('a base that goes matte is denibbed once it is seen matte, and not before its floor', () => {
    const seen = { ...BASE, flashBy: 'appearance', floorMin: 6 }
    expect(said(denib(van('solid', seen).at(600)))).toBe('sandEarly')
    const shop = van('solid', seen)
    shop.at(4).do('InspectCoat', { panel: DOOR, result: 'matt' })
    expect(around(shop, 9, denib)).toEqual(['sandEarly', 'done'])
  })

  test.each(['light', 'drop', 'full', 'blend'])(
    'after a denib of an effect base a %s coat of base is enough, and counts for nothing',
    (kind) => {
      const shop = van('pearl')
      expect(said(denib(shop.at(20)))).toBe('done')
      expect(said(startCoat(CLEAR_CUP)(shop.fork().at(21)))).toBe('wantsBase')
      const [start] = shop.at(21).do('StartCoat', { panels: [DOOR], cup: BASE_CUP, kind })
      // The most is one coat, and one is on.
      expect(outsideOf(start)).toEqual([])
      shop.at(22).do('FinishCoat', { panels: [DOOR] })
      expect(panelOf(shop).coats.map(({ counts }) => counts)).toEqual([true, false])
      expect(said(startCoat(CLEAR_CUP)(shop.at(37)))).toBe('done')
    },
  )
})

test('a film that is not dust free is not carried, where its sheet says only that', () => {
  const shop = shopWith([{ ...CLEAR, ready: { dustFree: 30 } }])
  addPanel(shop, [{ ...CLEAR_STEP, coats: ONE }, { stage: 'polish' }])
  coat(mix(shop, CLEAR_CUP, CLEAR.sheet), CLEAR_CUP, 1, 3)
  const move = (copy: Shop) => copy.send('MovePanel', { panel: DOOR, zone: 'bay' })
  expect(around(shop, 33, move)).toEqual(['notReady', 'done'])
})
