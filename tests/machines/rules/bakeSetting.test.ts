import { describe, expect, test } from 'vitest'
import { deadlines } from '../../../machines/deadlines.ts'
import {
  addPanel,
  air,
  around,
  CLEAR_CUP,
  CLEAR_CURE,
  coat,
  DOOR,
  dueMin,
  evicted,
  JOB,
  minuteOf,
  mix,
  outsideOf,
  queued,
  refusalOf,
  said,
  shopWith,
  vanWith,
  WING,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

/** What a bake is set to, and what its heat does to the panels, vehicles, cups and guns around it. */

type Bake = { tempC: number; minutes: number; basis: 'part' | 'air'; flashBefore?: unknown }
const bake = (...bakes: Bake[]) => ({
  cure: { bake: bakes.map((one) => ({ flashBefore: 10, ...one })) },
})
const PART60: Bake = { tempC: 60, minutes: 30, basis: 'part' }
const REASON = { reason: 'asked for' }
/** A side of another job, in the same booth. */
const OTHER = {
  ...{ job: 'KKKK3333', panel: WING, name: 'Side', operation: 'clear-only', zone: 'booth' },
  route: CLEAR_CURE,
}

/** Two coats of clear, the last finished at minute 15. */
function cleared(more: object = {}): Shop {
  const shop = vanWith(CLEAR_CURE, [{ ...CLEAR, ...more }])
  return coat(coat(shop, CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
}
const started = (shop: Shop, min: number, setC?: number): Shop => {
  const set = setC === undefined ? {} : { setC }
  shop.at(min).do('StartCure', { panels: [DOOR], mode: 'bake', ...set })
  return shop
}
const read = (shop: Shop, min: number, partC?: number): Shop => {
  shop.at(min).do('ReadPart', { panel: DOOR, ...(partC === undefined ? {} : { partC }) })
  return shop
}
const part = (shop: Shop, ...readings: [min: number, partC?: number][]): Shop =>
  readings.reduce((all, [min, partC]) => read(all, min, partC), shop)

describe('what "at temperature" asserts', () => {
  const TWO = bake(PART60, { tempC: 80, minutes: 10, basis: 'part' })
  test.each([
    // Not above what it is set to, less five degrees by which a part stays behind.
    [undefined, 61],
    [80, 61],
    [84.9, 61],
    [85, 41],
    // None fits: the coolest.
    [50, 61],
  ])('"at temperature" in a bake that is set to %s °C', (setC, endMin) => {
    const shop = cleared(TWO)
    shop.at(30).do('StartCure', { panels: [DOOR], mode: 'bake', ...(setC ? { setC } : {}) })
    expect(dueMin(part(shop, [31]), 'cureOver')).toBe(endMin)
  })

  test('a zone may say by how much a part stays behind; the air does not', () => {
    const shop = cleared(TWO)
    shop.do('SaveZone', { zone: 'booth', lagC: 0 })
    shop.at(30).do('StartCure', { panels: [DOOR], mode: 'bake', setC: 80 })
    expect(dueMin(part(shop, [31]), 'cureOver')).toBe(41)
    const byAir = cleared(bake({ tempC: 80, minutes: 10, basis: 'air' }))
    byAir.at(30).do('StartCure', { panels: [DOOR], mode: 'bake', setC: 80 })
    expect(dueMin(part(byAir, [31]), 'cureOver')).toBe(41)
  })

  test('a setting that reaches a point of the air reaches none of the part', () => {
    const mixed = bake(
      { tempC: 80, minutes: 40, basis: 'air' },
      { tempC: 80, minutes: 10, basis: 'part' },
    )
    const shop = cleared(mixed)
    shop.at(30).do('StartCure', { panels: [DOOR], mode: 'bake', setC: 80 })
    expect(dueMin(part(shop, [31]), 'cureOver')).toBe(71)
  })
})

describe('heat reaches what stands beside it', () => {
  const GUN = 'gun-1'
  /** The door of one job bakes from minute 30; of another job a side stands there with one coat of clear. */
  function beside(setC?: number): Shop {
    const shop = addPanel(shopWith([CLEAR, BASE]), CLEAR_CURE)
    mix(shop, CLEAR_CUP, CLEAR.sheet)
    shop.do('OpenJob', { job: 'KKKK3333', title: 'Another van' })
    shop.do('AddPanel', OTHER)
    coat(coat(shop, CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
    mix(shop.at(16), 'FFFF2222', CLEAR.sheet, { zone: 'booth' })
    coat(shop, 'FFFF2222', 17, 18, { panels: [WING], gun: GUN })
    return started(shop.at(29), 30, setC)
  }
  const dues = (shop: Shop) =>
    Object.fromEntries(
      deadlines(shop.state).map(({ bell, thing, dueAt }) => [
        `${bell} ${thing.id}`,
        minuteOf(dueAt),
      ]),
    )

  // The sheet's single point doubles or halves each 10 degrees: 40 degrees warmer it goes 16 times as fast.
  test('a window, a cup and a gun there run as fast as the heat makes them, until a lower reading', () => {
    const without = dues(beside())
    const hot = dues(beside(60))
    const left = (key: string) => (without[key] ?? 0) - 30
    for (const key of [`windowShut ${WING}`, 'potOver FFFF2222', `gunDue ${GUN}`]) {
      expect(hot[key], key).toBeCloseTo(30 + left(key) / 16, 1)
    }
    const cooled = beside(60)
    cooled.at(31).do('EndCure', { panels: [DOOR] })
    air(cooled, 32, 20)
    // Two minutes of heat took as much as 32 minutes.
    expect(dues(cooled)[`windowShut ${WING}`]).toBeCloseTo(
      (without[`windowShut ${WING}`] ?? 0) - 30,
      1,
    )
  })

  test('a reading as warm as the setting, or one while it bakes, does not end it; a day range does', () => {
    const shop = beside(60)
    air(shop, 31, 20)
    shop.at(32).do('EndCure', { panels: [DOOR] })
    const still = dues(shop)[`windowShut ${WING}`] ?? 0
    expect(still).toBeLessThan(70)
    expect(dues(air(shop.fork(), 33, 60))[`windowShut ${WING}`]).toBe(still)
    shop.at(34).do('SetDayRange', { zone: 'booth', minC: 18, maxC: 22 })
    expect(dues(shop)[`windowShut ${WING}`]).toBeGreaterThan(300)
  })

  test('nothing waits less for it but what is baked', () => {
    const key = `coatReady ${WING}`
    expect(dues(beside(60))[key]).toBe(dues(beside())[key])
  })

  test('and that goes by the air of before the bake, also once all else of that day is evicted', () => {
    const shop = vanWith(CLEAR_CURE)
    shop.do('OpenJob', { job: 'KKKK3333', title: 'Another van' })
    shop.do('AddPanel', OTHER)
    air(shop, 20, 20).at(31)
    queued(shop, 30, 'StartCure', { panels: [DOOR], mode: 'bake', setC: 60 })
    for (const min of [40, 70, 100]) air(shop, min, 35)
    shop.at(110).do('FinishCoat', { panels: [WING], override: REASON })
    shop.at(112).do('EndCure', { panels: [DOOR] })
    air(shop, 119, 5)
    expect(dues(shop)).toMatchObject(dues(evicted(shop, 10 * 24 * 60)))
    expect(dues(shop)[`coatReady ${WING}`]).toBeLessThan(123)
  })

  test('in another zone nothing is warmer', () => {
    const shop = beside(60)
    shop.at(30).do('MovePanel', { panel: WING, zone: 'bay', override: REASON })
    expect(dues(shop)[`windowShut ${WING}`]).toBe(dues(beside())[`windowShut ${WING}`])
  })

  test('the vehicle of every job there has a limit, which a lead may override', () => {
    const shop = cleared()
    shop.do('OpenJob', { job: 'KKKK3333', title: 'Another van' })
    shop.do('AddPanel', OTHER)
    const ask = (setC: number, more: object = {}) =>
      shop
        .fork()
        .at(30)
        .send('StartCure', { panels: [DOOR], mode: 'bake', setC, ...more })
    const unasked = ask(80)
    expect('drafts' in unasked && unasked.drafts[0]?.notJudged).toEqual(['vehicleLimit'])
    shop.do('SetHeatLimit', { job: JOB, maxC: null })
    shop.do('SetHeatLimit', { job: 'KKKK3333', maxC: 60 })
    const judged = ask(60)
    expect('drafts' in judged && judged.drafts[0]?.notJudged).toBeUndefined()
    const refusal = refusalOf(ask(60.1))
    expect([refusal.code, refusal.overridable]).toEqual(['vehicleLimit', true])
    expect(refusal.message).toContain('Another van')
    const anyway = ask(60.1, { override: REASON })
    expect('drafts' in anyway && anyway.drafts[0]?.override?.codes).toEqual(['vehicleLimit'])
    // Elsewhere, or gone, it is not in the heat.
    shop.at(20).do('MovePanel', { panel: WING, zone: 'bay', override: REASON })
    expect(said(ask(80))).toBe('done')
  })
})

describe('a part after heat', () => {
  /** Baked from minute 30 to 70; another cup is mixed, and the film was abraded. */
  function baked(more: object = {}): Shop {
    const shop = part(started(cleared(more), 30, 65), [31])
    shop.at(70).do('EndCure', { panels: [DOOR] })
    return mix(shop, 'FFFF2222', CLEAR.sheet)
  }
  const again = (shop: Shop) => {
    shop.do('AbradePanel', { panel: DOOR, grit: 800, override: REASON })
    return shop.send('StartCoat', { panels: [DOOR], cup: 'FFFF2222', step: 0 })
  }

  test('is hot for half an hour, or as long as its zone says', () => {
    expect(around(baked(), 100, again)).toEqual(['partHot', 'done'])
    const shop = baked()
    shop.do('SaveZone', { zone: 'booth', coolMin: 12 })
    expect(around(shop, 82, again)).toEqual(['partHot', 'done'])
  })

  test('or until it is measured at 35 °C; warmer starts the half hour again', () => {
    expect(said(again(read(baked(), 75, 35)))).toBe('done')
    expect(said(again(read(baked(), 75, 35.1)))).toBe('partHot')
    expect(around(read(baked(), 90, 50), 120, again)).toEqual(['partHot', 'done'])
  })

  test('may be overridden with a reason, and the entry says it', () => {
    const shop = baked().at(72)
    shop.do('AbradePanel', { panel: DOOR, grit: 800, override: REASON })
    const start = { panels: [DOOR], cup: 'FFFF2222', step: 0, override: REASON }
    expect(shop.do('StartCoat', start)[0]?.override?.codes).toContain('partHot')
  })

  test('is not polished before it is cool, and then after as long as its sheet says', () => {
    const polish = (shop: Shop) => shop.send('PolishPanel', { panel: DOOR })
    expect(around(baked(), 100, polish)).toEqual(['notReady', 'done'])
    expect(around(baked({ ready: { polish: 60 } }), 160, polish)).toEqual(['notReady', 'done'])
    const measured = read(baked({ ready: { polish: 60 } }), 80, 30)
    expect(around(measured, 140, polish)).toEqual(['notReady', 'done'])
  })

  test('what was read of the air in the bake says nothing of the next coat', () => {
    const shop = part(started(cleared(), 30, 65), [31])
    air(shop, 69, 64)
    shop.at(70).do('EndCure', { panels: [DOOR] })
    addPanel(mix(shop, 'FFFF2222', CLEAR.sheet), CLEAR_CURE, { panel: WING, name: 'Side' })
    const ask = (copy: Shop) => copy.send('StartCoat', { panels: [WING], cup: 'FFFF2222' })
    const answer = ask(shop.fork().at(71))
    expect('drafts' in answer && answer.drafts[0]?.notJudged).toContain('airOutside')
    expect(said(ask(air(shop, 72, 64)))).toBe('airOutside')
  })
})

describe('temperatures beyond the sheet', () => {
  const hot = { limits: { maxPartC: 80 } }
  test('a part above the most of its sheet is marked, and so is a bake that is set so', () => {
    const shop = started(cleared(hot), 30, 80)
    expect(outsideOf(shop.at(40).do('ReadPart', { panel: DOOR, partC: 80 })[0])).toEqual([])
    expect(outsideOf(shop.at(41).do('ReadPart', { panel: DOOR, partC: 80.1 })[0])).toEqual([
      'overheated',
    ])
    const set = cleared(hot)
      .at(30)
      .do('StartCure', { panels: [DOOR], mode: 'bake', setC: 81 })
    expect(outsideOf(set[0])).toEqual(['overheated'])
  })

  test('below the least of its sheet no cure goes on', () => {
    const cold = cleared({ limits: { minC: 15 }, cure: { air: [{ atC: 20, minutes: 60 }] } })
    cold.at(30).do('StartCure', { panels: [DOOR], mode: 'air' })
    air(cold, 30, 20)
    expect(dueMin(cold, 'cureOver')).toBe(90)
    air(cold, 50, 14.9)
    expect(dueMin(cold, 'cureOver')).toBeUndefined()
    // It goes on where it stood: twenty minutes were over.
    air(air(cold, 60, 20), 85, 20)
    expect(dueMin(cold, 'cureOver')).toBe(100)
    const part = cleared({
      limits: { minC: 15, minPartC: 10 },
      cure: { air: [{ atC: 20, minutes: 60 }] },
    })
    part.at(30).do('StartCure', { panels: [DOOR], mode: 'air' })
    expect(dueMin(air(part, 30, 12), 'cureOver')).toBeGreaterThan(90)
  })
})

describe('a coat that nobody finished', () => {
  test('asks at three times what its pass takes, once for the pass', () => {
    const shop = addPanel(shopWith(), CLEAR_CURE, { areaM2: 2 })
    addPanel(shop, CLEAR_CURE, { panel: WING, name: 'Side', areaM2: 1 })
    mix(shop, CLEAR_CUP, CLEAR.sheet)
    shop.at(1).do('StartCoat', { panels: [DOOR, WING], cup: CLEAR_CUP })
    // 2 min a square meter: 4 and 2 minutes.
    const open = deadlines(shop.state).filter(({ bell }) => bell === 'coatOpen')
    expect(open.map(({ dueAt, panels }) => [minuteOf(dueAt), panels])).toEqual([[19, [DOOR, WING]]])
    shop.at(4).do('FinishCoat', { panels: [DOOR, WING] })
    expect(dueMin(shop, 'coatOpen')).toBeUndefined()
  })
})
