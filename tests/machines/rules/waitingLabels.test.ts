import { describe, expect, test } from 'vitest'
import { cupEndsAt, integralEndsAt } from '../../../machines/cup/ends.ts'
import { bakedMs } from '../../../machines/panel/cureClock.ts'
import { longAwaited } from '../../../machines/waiting.ts'
import {
  air,
  CLEAR_CUP,
  CLEAR_CURE,
  CLEAR_ONLY,
  coat,
  cupOf,
  DOOR,
  JOB,
  outsideOf,
  panelOf,
  queued,
  said,
  stateOf,
  vanWith,
  WING,
} from '../../support/given.ts'
import { inAnyOrder } from '../../support/interleavings.ts'
import { CLEAR } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

/** What takes its figures from a cup or a bake that another kiosk has not sent yet. */

describe('a part that is said to be at temperature', () => {
  const BAKED = [{ ...CLEAR_CURE[0], coats: 1 }, CLEAR_CURE[1]]
  const heldOf = (shop: Shop, id: string) => panelOf(shop, id).cure?.parts.map((p) => p.partC)

  test('is at that of its bake, whichever kiosk is back first', () => {
    const shop = coat(vanWith(BAKED), CLEAR_CUP, 1, 3).at(120)
    const after = inAnyOrder(
      shop,
      [[40, 'StartCure', { panels: [DOOR], mode: 'bake' }]],
      [[50, 'ReadPart', { panel: DOOR }]],
    )
    expect(heldOf(after, DOOR)).toEqual([60])
    expect(panelOf(after, DOOR).cure?.parts[0]?.isEstimated).toBe(true)
  })

  test('is that also of a panel which the other added', () => {
    const after = inAnyOrder(
      vanWith(CLEAR_ONLY).at(120),
      [
        [5, 'AddPanel', { job: JOB, panel: WING, name: 'Wing', operation: 'repair', route: BAKED }],
        [10, 'StartCoat', { panels: [WING], cup: CLEAR_CUP }],
        [14, 'FinishCoat', { panels: [WING] }],
        [50, 'StartCure', { panels: [WING], mode: 'bake' }],
      ],
      [[55, 'ReadPart', { panel: WING }]],
    )
    expect(heldOf(after, WING)).toEqual([60])
  })

  test('says nothing where no bake was on, and bakes nothing that begins later', () => {
    const shop = coat(vanWith(BAKED), CLEAR_CUP, 1, 3).at(120)
    const [draft] = queued(shop, 20, 'ReadPart', { panel: DOOR })
    expect(outsideOf(draft)).toEqual(['notCuring'])
    expect(panelOf(shop, DOOR).parts).toEqual([])
    shop.do('StartCure', { panels: [DOOR], mode: 'bake' })
    expect(heldOf(shop, DOOR)).toEqual([])
    expect(bakedMs(shop.state, panelOf(shop, DOOR), minute(200))).toEqual([0])
  })
})

describe('a label of a cup that is not known yet', () => {
  const MIXED = 'FFFF2222'

  test('is kept when it comes late, and refused when it is live', () => {
    const shop = vanWith(CLEAR_ONLY)
    expect(said(shop.fork().at(5).send('PrintLabel', { cup: MIXED }))).toBe('cupUnknown')
    const [draft] = queued(shop.at(120), 5, 'PrintLabel', { cup: MIXED })
    expect(outsideOf(draft)).toEqual(['cupUnknown'])
    expect(stateOf(shop, 'cup', MIXED)).toBe('unmixed')
    expect(longAwaited(shop.state, minute(140))).toMatchObject([{ kind: 'cup', id: MIXED }])
  })

  test('says until when the cup may be used by what was known then, whichever kiosk is back first', () => {
    const bench = { zone: 'bench' }
    const shop = air(vanWith(CLEAR_ONLY), 4, 30, 0.5, bench)
    // It was colder later: the cup itself would last longer than its label says.
    const after = inAnyOrder(
      air(shop, 20, 10, 0.5, bench).at(120),
      [[5, 'MixCup', { cup: MIXED, sheet: CLEAR.sheet, totalMl: 300 }]],
      [
        [6, 'PrintLabel', { cup: MIXED, byHand: true }],
        [7, 'PourCup', { cup: 'HHHH2222', from: [{ cup: MIXED, ml: 100 }] }],
      ],
    )
    const cup = cupOf(after, MIXED)
    expect(cup.prints).toMatchObject([{ copy: 1, byHand: true }])
    const [print] = cup.prints
    expect(print?.untilMs).toBe(cupEndsAt(after.state, cup))
    expect(print?.untilMs).toBeLessThan(integralEndsAt(after.state, cup) ?? 0)
    expect(cupOf(after, 'HHHH2222').untilMs).toBe(print?.untilMs)
  })

  test('says the end in the air of where the cup is, also for one that was moved', () => {
    const shop = air(vanWith(CLEAR_ONLY), 1, 35, 0.5, { zone: 'booth' })
    shop.at(2).do('MoveCup', { cup: CLEAR_CUP, zone: 'booth' })
    shop.at(3).do('PrintLabel', { cup: CLEAR_CUP })
    const cup = cupOf(shop, CLEAR_CUP)
    expect(cup.prints[0]?.untilMs).toBe(integralEndsAt(shop.state, cup))
  })

  test('of an emptied one is kept when it comes late, and the cup stays empty', () => {
    const shop = vanWith(CLEAR_ONLY).at(120)
    const after = inAnyOrder(
      shop,
      [[30, 'EmptyCup', { cup: CLEAR_CUP, how: 'used' }]],
      [[40, 'PrintLabel', { cup: CLEAR_CUP }]],
    )
    expect([stateOf(after, 'cup', CLEAR_CUP), cupOf(after, CLEAR_CUP).prints]).toEqual([
      'emptied',
      [],
    ])
  })
})
