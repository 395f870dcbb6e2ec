import { describe, expect, test } from 'vitest'
import {
  air,
  around,
  bells,
  CLEAR_CUP,
  CLEAR_CURE,
  coat,
  DOOR,
  dueMin,
  MS,
  minuteOf,
  queued,
  refusalOf,
  said,
  vanWith,
  whereIs,
} from '../../support/given.ts'
import { CLEAR } from '../../support/sheets.ts'
import type { Answer, Shop } from '../../support/shop.ts'

type Bake = { tempC: number; minutes: number; basis: 'part' | 'air'; flashBefore?: unknown }
const bake = (...bakes: Bake[]) => ({ cure: { bake: bakes } })
const PART60: Bake = { tempC: 60, minutes: 30, basis: 'part', flashBefore: 10 }

/** Two coats of clear, the last finished at minute 15. */
function cleared(more: object = {}): Shop {
  const shop = vanWith(CLEAR_CURE, [{ ...CLEAR, ...more }])
  return coat(coat(shop, CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
}
/** The same, in the bake since minute 30. */
function baking(more: object = {}): Shop {
  const shop = cleared(more)
  shop.at(30).do('StartCure', { panels: [DOOR], mode: 'bake' })
  return shop
}
const part = (shop: Shop, ...readings: [min: number, partC?: number][]): Shop => {
  for (const [min, partC] of readings) {
    shop.at(min).do('ReadPart', { panel: DOOR, ...(partC === undefined ? {} : { partC }) })
  }
  return shop
}
const pass = (shop: Shop): Answer => shop.send('PassPanel', { panel: DOOR })
const heat = (shop: Shop): Answer => shop.send('StartCure', { panels: [DOOR], mode: 'bake' })

describe('going to heat', () => {
  test('waits for the standing flash, and a bell says when it may', () => {
    expect(around(cleared(), 25, heat)).toEqual(['flashNotOver', 'done'])
    expect(bells(cleared(), 'mayGoToHeat', 'coatReady')).toEqual([['mayGoToHeat', 25]])
  })

  test('of several bakes the longest standing flash binds', () => {
    const shop = cleared(bake(PART60, { tempC: 80, minutes: 10, basis: 'part', flashBefore: 20 }))
    expect(around(shop, 35, heat)).toEqual(['flashNotOver', 'done'])
  })

  test('a standing flash given as points follows the air, one given as minutes is meant at 20 °C', () => {
    for (const flashBefore of [10, [{ atC: 20, minutes: 10 }]]) {
      const shop = air(cleared(bake({ ...PART60, flashBefore })), 15, 10)
      expect(around(shop, 35, heat)).toEqual(['flashNotOver', 'done'])
    }
  })

  test('is refused for missing coats and for work by hand that is left', () => {
    expect(said(heat(coat(vanWith(CLEAR_CURE), CLEAR_CUP, 1, 3).at(60)))).toBe('coatsMissing')
    const byHand = vanWith([CLEAR_CURE[0], { stage: 'sand' }, { stage: 'cure' }])
    coat(coat(byHand, CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
    const refusal = refusalOf(heat(byHand.at(60)))
    expect([refusal.code, refusal.overridable]).toEqual(['wrongStep', false])
  })

  test('is refused while it bakes, and without a cure on the route', () => {
    expect(said(heat(baking().at(31)))).toBe('curing')
    const shop = vanWith([CLEAR_CURE[0]])
    expect(said(heat(coat(coat(shop, CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15).at(60)))).toBe(
      'wrongStep',
    )
  })

  test('is refused where the sheet gives no bake', () => {
    const refusal = refusalOf(heat(cleared({ cure: { air: CLEAR.cure.air } }).at(60)))
    expect(refusal.code).toBe('noSuchCure')
    expect(refusal.message).toBe('Rear door: The sheet gives no bake cure. It gives: air.')
  })
})

describe('a bake by part temperature', () => {
  test('is over when its minutes at temperature are complete', () => {
    const shop = part(baking(), [30, 60], [40, 62], [50, 61])
    expect(dueMin(shop, 'cureOver')).toBe(60)
    expect(around(shop, 60, pass)).toEqual(['cureNotOver', 'done'])
  })

  test('a reading that reaches the point holds until the next, the end, or air that is sensed below it', () => {
    expect(dueMin(part(baking(), [30, 60]), 'cureOver')).toBe(60)
    expect(dueMin(part(baking(), [30, 60], [42, 59.9]), 'cureOver')).toBeUndefined()
    expect(dueMin(air(part(baking(), [30, 60]), 45, 60), 'cureOver')).toBe(60)
    expect(dueMin(air(part(baking(), [30, 60]), 45, 59.9), 'cureOver')).toBeUndefined()
  })

  test('elsewhere it holds ten minutes: a reading before the start does not go on', () => {
    const shop = part(cleared(), [25, 60])
    shop.at(30).do('StartCure', { panels: [DOOR], mode: 'bake' })
    expect(dueMin(shop, 'cureOver')).toBeUndefined()
  })

  test('a reading from before the start holds its ten minutes into the bake, which counts from its start', () => {
    const shop = part(cleared(), [25, 60])
    expect(said(heat(shop.at(30)))).toBe('done')
    expect(dueMin(part(shop, [35, 60], [45, 60], [55, 60]), 'cureOver')).toBe(60)
    const [draft] = shop
      .fork()
      .at(33)
      .do('EndCure', { panels: [DOOR] })
    expect(draft?.data.bakedMs).toEqual([3 * 60_000])
  })

  test('a reading ten minutes before the start, or too cold, or followed by another, does not', () => {
    const bakedMs = (...before: [number, number][]) => {
      const shop = part(cleared(), ...before)
      heat(shop.at(30))
      return shop.at(35).do('EndCure', { panels: [DOOR] })[0]?.data.bakedMs
    }
    expect(bakedMs([20, 60])).toEqual([0])
    expect(bakedMs([25, 59.9])).toEqual([0])
    expect(bakedMs([25, 60], [29, 50])).toEqual([0])
    expect(bakedMs([20 + MS, 60])).toEqual([1])
  })

  test('only time at or above the temperature counts', () => {
    const shop = part(baking(), [30, 59.9], [40, 60], [50, 60], [60, 59], [65, 60])
    expect(dueMin(shop, 'cureOver')).toBe(75)
  })

  test('the air does not count for it, however hot', () => {
    expect(dueMin(air(baking(), 31, 80), 'cureOver')).toBeUndefined()
  })

  test('without a reading it is unmeasured: it is not over at any time', () => {
    const shop = baking().at(900)
    const refusal = refusalOf(pass(shop))
    expect([refusal.code, refusal.clearsAt]).toEqual(['cureNotOver', undefined])
    expect(bells(shop, 'cureOver')).toEqual([])
  })

  test('"at temperature" is one touch, and an estimate that holds to the end', () => {
    const shop = baking()
    const [draft] = shop.at(35).do('ReadPart', { panel: DOOR })
    expect(draft?.data).toEqual({ partC: 60, isEstimated: true })
    expect(around(shop, 65, pass)).toEqual(['cureNotOver', 'done'])
  })

  test('the estimate ends at the next reading, and the reading before it ends with the estimate', () => {
    expect(dueMin(part(baking(), [31, 40], [35]), 'cureOver')).toBe(65)
    const shop = part(baking(), [35], [45, 40])
    expect(dueMin(shop, 'cureOver')).toBeUndefined()
    expect(dueMin(part(shop, [50, 61], [60, 61]), 'cureOver')).toBe(70)
  })

  test('what was measured at the very moment of "at temperature" goes before it, whichever came first', () => {
    for (const readings of [
      [[35], [35, 50]],
      [[35, 50], [35]],
    ] as [number, number?][][]) {
      const shop = baking().at(36)
      for (const [min, partC] of readings)
        queued(shop, min, 'ReadPart', { panel: DOOR, ...(partC === undefined ? {} : { partC }) })
      expect(dueMin(shop, 'cureOver')).toBeUndefined()
      expect(dueMin(part(shop, [40, 60], [50, 60], [60, 60]), 'cureOver')).toBe(70)
    }
  })

  test('"at temperature" counts for nothing while the panel does not bake', () => {
    const answer = cleared().send('ReadPart', { panel: DOOR })
    expect(said(answer)).toBe('data.partC')
  })

  test('any one of its figures is enough', () => {
    const shop = part(
      baking(bake(PART60, { tempC: 80, minutes: 10, basis: 'part', flashBefore: 10 })),
      [30, 60],
      [40, 81],
    )
    expect(around(shop, 50, pass)).toEqual(['cureNotOver', 'done'])
  })
})

describe('a bake by air temperature', () => {
  const AIR = bake({ tempC: 70, minutes: 40, basis: 'air', flashBefore: 10 })
  test("counts the zone's readings, each for half an hour", () => {
    const shop = air(air(baking(AIR), 30, 70), 60, 72)
    expect(dueMin(shop, 'cureOver')).toBe(70)
    expect(around(shop, 70, pass)).toEqual(['cureNotOver', 'done'])
    expect(dueMin(air(baking(AIR), 30, 70), 'cureOver')).toBeUndefined()
  })

  test('a reading from before the start counts from the start', () => {
    const shop = cleared(AIR)
    air(shop, 25, 70)
      .at(30)
      .do('StartCure', { panels: [DOOR], mode: 'bake' })
    expect(dueMin(air(shop, 55, 70), 'cureOver')).toBe(70)
  })

  test('does not count the part', () => {
    expect(dueMin(part(baking(AIR), [30, 90], [40, 90], [50, 90], [60, 90]), 'cureOver')).toBe(
      undefined,
    )
  })

  test('counts the air of the zone in which the panel is, not of the one that it left', () => {
    const shop = air(baking(AIR), 30, 70)
    shop.at(40).do('MovePanel', { panel: DOOR, zone: 'oven' })
    air(shop, 41, 70)
    air(shop, 50, 75, 0.1, { zone: 'oven' })
    expect(dueMin(shop, 'cureOver')).toBe(80)
  })

  test('of the zone to which it came also the reading that was there already', () => {
    const shop = air(air(baking(AIR), 30, 70), 38, 75, 0.1, { zone: 'oven' })
    shop.at(40).do('MovePanel', { panel: DOOR, zone: 'oven' })
    expect(dueMin(air(shop, 60, 75, 0.1, { zone: 'oven' }), 'cureOver')).toBe(70)
  })
})

describe('readings that were in the oven before the panel', () => {
  const AIR = bake({ tempC: 70, minutes: 40, basis: 'air', flashBefore: 10 })
  const oven = (shop: Shop, min: number, airC: number) =>
    air(shop, min, airC, 0.1, { zone: 'oven' })
  const moved = (shop: Shop, min: number): Shop => {
    shop.at(min).do('MovePanel', { panel: DOOR, zone: 'oven' })
    return shop
  }

  test('the last of them holds when it comes in, not the first', () => {
    const warmed = moved(oven(oven(baking(AIR), 32, 40), 38, 75), 40)
    expect(dueMin(oven(warmed, 60, 75), 'cureOver')).toBe(80)
    const cooled = moved(oven(oven(baking(AIR), 32, 75), 38, 40), 40)
    expect(dueMin(oven(cooled, 60, 75), 'cureOver')).toBeUndefined()
    expect(dueMin(oven(oven(cooled, 60, 75), 85, 75), 'cureOver')).toBe(100)
  })

  test('a younger one of the zone that it left ends when it leaves', () => {
    const shop = moved(air(oven(baking(AIR), 38, 75), 39, 40), 40)
    expect(dueMin(oven(shop, 60, 75), 'cureOver')).toBe(80)
  })

  test('a zone that it only passed through has no word, however young its reading is', () => {
    const shop = oven(baking(AIR), 38, 75)
    air(shop, 39, 40, 0.5, { zone: 'bay' })
    // Both were typed in later, to the minute.
    shop.at(45)
    for (const zone of ['bay', 'oven']) queued(shop, 40, 'MovePanel', { panel: DOOR, zone })
    expect(dueMin(oven(shop, 60, 75), 'cureOver')).toBe(80)
  })
})

describe('ending a bake', () => {
  const end = (shop: Shop) => shop.do('EndCure', { panels: [DOOR] })[0]

  test('early is kept as a fact with what it lacks, and the panel wants another', () => {
    const shop = part(baking(), [30, 60], [40, 60], [50, 60])
    const draft = end(shop.at(60 - MS))
    expect(draft?.outside?.map((b) => [b.code, minuteOf(Number(b.limit))])).toEqual([
      ['cureNotOver', 60],
    ])
    expect(draft?.data.isComplete).toBe(false)
    expect(whereIs(shop)).toBe('cure.due')
    expect(bells(shop, 'mayGoToHeat')).toEqual([])
    expect(said(pass(shop))).toBe('cureNotOver')
    expect(said(heat(shop))).toBe('done')
  })

  test('when it is over completes the step, and keeps the minutes by figure', () => {
    const shop = part(baking(), [30, 60], [40, 60], [50, 60])
    const draft = end(shop.at(60))
    expect([draft?.outside, draft?.data.isComplete]).toEqual([undefined, true])
    expect(draft?.data.bakedMs).toEqual([30 * 60_000])
    expect(whereIs(shop)).toBe('finished')
  })

  test('an unmeasured one is never complete', () => {
    const draft = end(baking().at(600))
    expect(draft?.outside).toEqual([
      { code: 'cureNotOver', limit: null, value: expect.any(Number) },
    ])
  })

  test('passing says that the cure is over as well, in the same command', () => {
    const shop = part(baking(), [30, 60], [40, 60], [50, 60]).at(61)
    const drafts = shop.do('PassPanel', { panel: DOOR })
    expect(drafts.map((d) => d.type)).toEqual(['CureEnded', 'PanelPassed'])
    expect(whereIs(shop)).toBe('passed')
  })
})
