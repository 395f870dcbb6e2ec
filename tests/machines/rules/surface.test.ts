import { describe, expect, test } from 'vitest'
import {
  addPanel,
  air,
  CLEAR_CUP,
  CLEAR_ONLY,
  coat,
  DOOR,
  JOB,
  MS,
  mix,
  outsideOf,
  queued,
  refusalOf,
  said,
  startCoat,
  vanWith,
  WING,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

/**
 * How warm a panel is: measured, or taken from how long it has stood in its air. Common practice, no source.
 * The invented clear keeps for 3,000 minutes here, so that a panel may wait.
 */

const LASTING = { ...CLEAR, potLife: [{ atC: 20, minutes: 3_000 }] }
const van = (more: object = {}): Shop =>
  addPanel(vanWith(CLEAR_ONLY, [BASE, { ...LASTING, ...more }]), CLEAR_ONLY, {
    panel: WING,
    name: 'Wing',
  })
const started = (shop: Shop, panel = DOOR) =>
  shop.do('StartCoat', { panels: [panel], cup: CLEAR_CUP })[0]
const assumed = (shop: Shop) =>
  (started(shop)?.data.judged as { surfaceAssumed?: number } | undefined)?.surfaceAssumed
const asked = (shop: Shop, panel = DOOR) => started(shop, panel)?.data.asked
const move = (shop: Shop, min: number, zone: string) =>
  shop.at(min).do('MovePanel', { panel: DOOR, zone, override: { reason: 'test' } })

describe('a panel that stands two hours in its air', () => {
  test('is taken to be 1 °C colder than it, and the coat is marked', () => {
    const shop = air(van(), 119, 20)
    expect(assumed(shop.fork().at(120 - MS))).toBeUndefined()
    expect(assumed(shop.fork().at(120))).toBe(19)
    // Magnus, WMO-No. 8 (2008): 20 °C and 50 % RH, dew point 9.26 °C.
    expect(started(shop.at(120))?.data.judged).toMatchObject({ dewMarginC: 9.74 })
  })

  test('is judged by it: air 3.9 °C above its dew point has a surface 2.9 °C above', () => {
    // 20 °C and 78 % RH: dew point 16.04 °C by the same formula.
    const damp = (rh: number) => said(startCoat(CLEAR_CUP)(air(van({ limits: {} }), 121, 20, rh)))
    expect([damp(0.77), damp(0.79)]).toEqual(['done', 'dewPoint'])
  })

  test('what was measured goes before it', () => {
    const shop = air(van(), 119, 20)
    shop.at(120).do('ReadPart', { panel: DOOR, partC: 17 })
    expect(assumed(shop.fork())).toBeUndefined()
    expect(started(shop)?.data.judged).toMatchObject({ dewMarginC: 7.74 })
  })

  test('wherever its air was the same: another zone within three degrees as it left', () => {
    const from = (bayC: number) => {
      const there = air(van(), 1, bayC, 0.5, { zone: 'bay' })
      move(there, 2, 'bay')
      air(there, 118, bayC, 0.5, { zone: 'bay' })
      move(there, 119, 'booth')
      return assumed(air(there, 125, 20))
    }
    expect([from(17), from(23), from(16.9), from(23.1)]).toEqual([19, 19, undefined, undefined])
  })

  test('not where nobody read the air that it came from', () => {
    const shop = van()
    move(shop, 1, 'bay')
    move(shop, 119, 'booth')
    expect(assumed(air(shop, 121, 20))).toBeUndefined()
  })

  test('not while the air was colder within the two hours: a part warms slower than its air', () => {
    const cold = air(van(), 60, 16.9)
    expect(assumed(air(cold.fork(), 170, 20))).toBeUndefined()
    expect(assumed(air(cold, 180, 20))).toBe(19)
    expect(assumed(air(air(van(), 60, 17), 170, 20))).toBe(19)
  })

  test('or was baked there on the same day', () => {
    const bake = (min: number) => {
      const shop = coat(
        vanWith([...CLEAR_ONLY, { stage: 'cure' }], [BASE, LASTING]),
        CLEAR_CUP,
        1,
        3,
      )
      coat(shop, CLEAR_CUP, 15, 17)
      shop.do('SetHeatLimit', { job: JOB, maxC: null })
      shop.at(60).do('StartCure', { panels: [DOOR], mode: 'bake', setC: 60 })
      shop.at(100).do('EndCure', { panels: [DOOR] })
      move(shop, min - 30, 'bay')
      move(shop, min - 20, 'booth')
      shop.at(min - 1).do('AbradePanel', { panel: DOOR, grit: 800 })
      const more = { panels: [DOOR], cup: CLEAR_CUP, step: 0, override: { reason: 'test' } }
      return air(shop, min, 20).do('StartCoat', more)[0]?.data.judged
    }
    expect(bake(141)).toMatchObject({ surfaceAssumed: 19 })
    expect(bake(1_500)).not.toHaveProperty('surfaceAssumed')
  })
})

describe('how warm a part is', () => {
  test('is asked once a job and move where nobody knows it, and only where the air was read', () => {
    const shop = air(van(), 1, 20)
    expect(asked(shop.at(2))).toContain('surface')
    expect(started(air(van(), 1, 20))?.notJudged).toEqual(['dewPoint'])
    expect(asked(shop.at(3), WING) ?? []).not.toContain('surface')
    expect(asked(van().at(2))).not.toContain('surface')
  })

  test('again after a move, and for another job', () => {
    const shop = air(van(), 1, 20)
    asked(shop.at(2), WING)
    air(shop, 3, 20, 0.5, { zone: 'bay' })
    move(shop, 4, 'bay')
    expect(asked(shop.fork().at(5))).toContain('surface')
    const other = { job: 'KKKK2222', panel: 'RRRR2222', operation: 'repair', route: CLEAR_ONLY }
    shop.do('OpenJob', { job: 'KKKK2222', title: 'Small car' })
    shop.do('AddPanel', { ...other, name: 'Roof' })
    expect(asked(air(shop, 6, 20), 'RRRR2222')).toContain('surface')
  })

  test('is always asked in air less than six degrees above its dew point', () => {
    // 20 °C: 68 % RH has its dew point at 13.92, 69 % at 14.15 °C by the same formula.
    const near = (rh: number) => asked(air(van(), 121, 20, rh)) ?? []
    expect(near(0.68)).not.toContain('surface')
    expect(near(0.69)).toContain('surface')
    const shop = air(van(), 121, 20, 0.7)
    asked(shop, WING)
    expect(asked(shop.at(122))).toContain('surface')
  })

  test('is not asked of what was just measured', () => {
    expect(asked(air(van(), 1, 20, 0.7, { surfaceC: 20 })) ?? []).not.toContain('surface')
  })
})

describe('the temperature of a part whose sheet says nothing of it', () => {
  const at = (surfaceC: number, more: object = {}) =>
    air(van({ limits: {}, ...more }), 1, 20, 0.2, { surfaceC })

  test.each([
    [9.9, 'partTemp', []],
    [10, 'done', ['partTemp']],
    [14.9, 'done', ['partTemp']],
    [15, 'done', []],
    [35, 'done', []],
    [35.1, 'done', ['partTemp']],
    [45, 'done', ['partTemp']],
    [45.1, 'partTemp', []],
  ])('%f °C: %s', (surfaceC, want, marks) => {
    expect(said(startCoat(CLEAR_CUP)(at(surfaceC).fork()))).toBe(want)
    if (want === 'done') expect(outsideOf(started(at(surfaceC)))).toEqual(marks)
  })

  test('the refusal says what is and what is wanted', () => {
    const start = startCoat(CLEAR_CUP)
    expect(refusalOf(start(at(5))).message).toBe(
      'Rear door: The part is at 5 °C. Warm it to 10 °C first.',
    )
    expect(refusalOf(start(at(58))).message).toBe(
      'Rear door: The part is at 58 °C. Let it cool to 45 °C first.',
    )
  })

  test('the sheet’s own figures go before, each on its side, and mark nothing', () => {
    const limits = { minPartC: 5, maxPartC: 40 }
    const outside = (c: number) => outsideOf(started(at(c, { limits })))
    expect([outside(6), outside(39)]).toEqual([[], []])
    const start = startCoat(CLEAR_CUP)
    expect([said(start(at(4.9, { limits }))), said(start(at(40.1, { limits })))]).toEqual([
      'partTemp',
      'partTemp',
    ])
    expect(said(start(at(9, { limits: { maxPartC: 40 } })))).toBe('partTemp')
  })

  test('a solvent-borne product without activator has none', () => {
    const shop = vanWith(
      [{ stage: 'base', sheet: 'one-part' }],
      [
        {
          ...LASTING,
          sheet: 'one-part',
          stage: 'base',
          limits: {},
          activators: [],
          components: [{ name: 'Base', role: 'base', parts: 1 }],
          potLife: null,
        },
      ],
    )
    mix(shop, 'PPPP2222', 'one-part')
    air(shop, 1, 20, 0.2, { surfaceC: 6 })
    expect(said(startCoat('PPPP2222')(shop))).toBe('done')
  })

  test('a shop may set its own', () => {
    const shop = at(8)
    shop.do('ChangeSettings', { limits: { partMinC: 8, partMarkMinC: 8 } })
    expect(outsideOf(started(shop))).toEqual([])
  })

  test('an override stands for its job, zone and stage until the part is measured again', () => {
    const shop = at(8)
    const override = { reason: 'CLIMATE' }
    shop.do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP, override })
    shop.at(2).do('FinishCoat', { panels: [DOOR] })
    expect(said(startCoat(CLEAR_CUP, { panels: [WING] })(shop.fork()))).toBe('done')
    air(shop, 3, 20, 0.2, { surfaceC: 7 })
    expect(said(startCoat(CLEAR_CUP, { panels: [WING] })(shop))).toBe('partTemp')
  })

  test('what is entered late is kept with what it was', () => {
    const [late] = queued(at(8).at(60), 2, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    expect(late?.outside).toMatchObject([{ code: 'partTemp', limit: 10, value: 8 }])
  })
})
