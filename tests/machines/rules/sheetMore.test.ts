import * as v from 'valibot'
import { describe, expect, test } from 'vitest'
import { curesIn, opensOf } from '../../../machines/sheet/intervals.ts'
import { sheetSchema } from '../../../machines/sheet/sheetSchema.ts'
import {
  air,
  around,
  CLEAR_CUP,
  CLEAR_CURE,
  CLEAR_ONLY,
  coat,
  cupOf,
  DOOR,
  JOB,
  MS,
  minuteOf,
  mix,
  outsideOf,
  said,
  startCoat,
  vanWith,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

/** Figures that some sheets give besides: a lamp's two powers, additives, a bake's window, a heavy coat. Invented figures. */

const at20 = (minutes: number) => [{ atC: 20, minutes }]
const parse = (more: object) => v.parse(sheetSchema, { ...CLEAR, ...more })
const van = (more: object): Shop => vanWith(CLEAR_ONLY, [BASE, { ...CLEAR, ...more }])

describe('a lamp', () => {
  const lamp = (infrared: object) => curesIn(parse({ cure: { infrared } }))[0]?.infrared?.minutes

  test('is on at half power, then at full, and the film has both', () => {
    expect(lamp({ fullMin: 10, halfMin: 5, flashBefore: 'none' })).toBe(15)
    expect(lamp({ fullMin: 10, flashBefore: 'none' })).toBe(10)
  })

  test('minutes by their older name are those at full power, and are kept so', () => {
    expect(lamp({ minutes: 12, flashBefore: 'none' })).toBe(12)
    expect(parse({ cure: { infrared: { fullMin: 12 } } }).cure.infrared).toEqual({ minutes: 12 })
  })

  test.each([[{}], [{ minutes: 5, fullMin: 5 }]])('%o says no time, or two', (infrared) => {
    expect(() => parse({ cure: { infrared } })).toThrow()
  })
})

describe('an additive', () => {
  const ADDITIVES = [
    { name: 'accelerator', potLifeFactor: 0.5, flashBetween: at20(4) },
    { name: 'flex', fromC: 15, flashBeforeNext: at20(25) },
  ]
  const shop = () => van({ additives: ADDITIVES })
  const endsOf = (s: Shop, cup: string) =>
    cupOf(s, cup).clocks.map(({ startMs, interval }) => [
      minuteOf(startMs),
      interval.points[0]?.minutes,
    ])

  test('stretches or shortens the pot life', () => {
    const van = mix(shop(), 'FAST2222', CLEAR.sheet, { additives: [{ name: 'accelerator' }] })
    expect(endsOf(van, 'FAST2222')).toEqual([[0, 30]])
    expect(around(van, 30, startCoat('FAST2222'))).toEqual(['done', 'potLifeOver'])
    expect(
      endsOf(mix(shop(), 'FXXX2222', CLEAR.sheet, { additives: [{ name: 'flex' }] }), 'FXXX2222'),
    ).toEqual([[0, 60]])
  })

  test('its flash stands in place of the sheet’s, and both additives’ together', () => {
    const both = mix(shop(), 'BTTH2222', CLEAR.sheet, {
      additives: [{ name: 'flex' }, { name: 'accelerator' }],
    })
    coat(both, 'BTTH2222', 1, 2)
    const [last] = both.state.things.panel[DOOR]?.context.coats ?? []
    expect(last?.opens?.flashBetween.map((one) => one.points)).toEqual([at20(4)])
    expect(last?.opens?.flashBeforeNext.map((one) => one.points)).toEqual([at20(25)])
    expect(around(both, 6, startCoat('BTTH2222'))).toEqual(['flashNotOver', 'done'])
  })

  test('put into a cup that lives already, its figure counts from when that began to: nothing extends it', () => {
    const mixed = shop().at(10)
    const add = [{ role: 'additive', name: 'accelerator', ml: 5 }]
    mixed.do('PourCup', { cup: 'PPRR2222', from: [{ cup: CLEAR_CUP }], add })
    expect(endsOf(mixed, 'PPRR2222')).toEqual([
      [0, 60],
      [0, 30],
    ])
    expect(around(mixed, 30, startCoat('PPRR2222'))).toEqual(['done', 'potLifeOver'])
  })

  test('outside its range is marked, and said', () => {
    const cold = air(shop(), 1, 14.9, 0.5, { zone: 'bench' })
    const [draft] = cold.do('MixCup', {
      cup: 'CDDD2222',
      sheet: CLEAR.sheet,
      totalMl: 100,
      additives: [{ name: 'flex' }],
    })
    expect(outsideOf(draft)).toContain('optionOutside')
  })

  test('that the sheet does not know is recorded, and changes nothing', () => {
    const other = mix(shop(), 'XTRA2222', CLEAR.sheet, { additives: [{ name: 'pearl powder' }] })
    expect(endsOf(other, 'XTRA2222')).toEqual([[0, 60]])
    expect(cupOf(other, 'XTRA2222').withAdditives).toBeUndefined()
  })
})

describe('a coat after a bake', () => {
  const baked = (more: object) => {
    const shop = coat(vanWith([...CLEAR_CURE], [BASE, { ...CLEAR, ...more }]), CLEAR_CUP, 1, 3)
    coat(shop, CLEAR_CUP, 15, 17)
    shop.do('SetHeatLimit', { job: JOB, maxC: null })
    shop.at(60).do('StartCure', { panels: [DOOR], mode: 'bake', setC: 60 })
    shop.at(100).do('EndCure', { panels: [DOOR] })
    // Until it is read again the zone counts as warm as the bake was.
    air(shop, 100 + MS, 20)
    mix(shop.at(150), 'NEXT2222', CLEAR.sheet)
    return shop
  }
  const next = (shop: Shop, min: number) =>
    said(
      startCoat('NEXT2222', { step: 0, override: { reason: 'hot', codes: ['partHot'] } })(
        shop.fork().at(min),
      ),
    )

  test('has to wait for abrading where its sheet says nothing, or that', () => {
    expect(next(baked({}), 151)).toBe('windowShut')
    expect(next(baked({ recoatAfterBake: 'mustSand' }), 151)).toBe('windowShut')
  })

  test('may go on as it is where its sheet says so', () => {
    expect(next(baked({ recoatAfterBake: 'unlimited' }), 200)).toBe('done')
  })

  test('within so long of the bake’s end', () => {
    const shop = baked({ recoatAfterBake: at20(90) })
    expect([next(shop, 189), next(shop, 190)]).toEqual(['done', 'windowShut'])
    shop.at(200).do('AbradePanel', { panel: DOOR, grit: 800 })
    expect(next(shop, 201)).toBe('done')
  })
})

describe('a heavy coat', () => {
  const heavyCoat = { flashBetween: at20(20), flashBeforeNext: at20(40) }
  const sprayed = (kind: string, more: object = { heavyCoat }) => {
    const shop = van(more)
    shop.at(1).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP, kind })
    shop.at(2).do('FinishCoat', { panels: [DOOR] })
    return shop
  }

  test('flashes by its own figures, the sheet’s beside them', () => {
    expect(around(sprayed('heavy'), 22, startCoat(CLEAR_CUP))).toEqual(['flashNotOver', 'done'])
    expect(around(sprayed('full'), 12, startCoat(CLEAR_CUP))).toEqual(['flashNotOver', 'done'])
  })

  test('is as a full one where the sheet has none', () => {
    expect(around(sprayed('heavy', {}), 12, startCoat(CLEAR_CUP))).toEqual(['flashNotOver', 'done'])
  })

  test('takes no shorter figure', () => {
    const shorter = { flashBetween: at20(1), flashBeforeNext: at20(1) }
    const shop = sprayed('heavy', { heavyCoat: shorter })
    expect(around(shop, 12, startCoat(CLEAR_CUP))).toEqual(['flashNotOver', 'done'])
  })
})

describe('a purge', () => {
  const done = (more: readonly [number, number][]) => {
    const shop = coat(vanWith(CLEAR_CURE), CLEAR_CUP, 1, 3)
    coat(shop, CLEAR_CUP, 15, 17)
    shop.do('SetHeatLimit', { job: JOB, maxC: null })
    for (const [min, minutes] of more) shop.at(min).do('PurgeZone', { zone: 'booth', minutes })
    return shop
  }
  const bake = (shop: Shop) => shop.send('StartCure', { panels: [DOOR], mode: 'bake', setC: 60 })

  test('that a person began runs to its end before there is heat', () => {
    expect(around(done([[60, 5]]), 65, bake)).toEqual(['wetInZone', 'done'])
    expect(
      around(
        done([[60, 5]])
          .fork()
          .at(62),
        65,
        bake,
      ),
    ).toEqual(['wetInZone', 'done'])
  })

  test('does not shorten what the last coat asks for', () => {
    const shop = done([[17, 1]])
    const at = (min: number) => said(bake(shop.fork().at(min)))
    expect(at(19.9)).not.toBe('done')
  })
})

test('grit may be given from one to another', () => {
  expect(parse({ grit: { from: 600, to: 1000 } }).grit).toEqual({ from: 600, to: 1000 })
  expect(() => parse({ grit: { from: 600 } })).toThrow()
})

test('what a sheet opens has a window after a bake only where it says one', () => {
  expect(opensOf(parse({}), 1, [])).not.toHaveProperty('recoatAfterBake')
})
