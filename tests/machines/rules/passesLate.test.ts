import { describe, expect, test } from 'vitest'
import { foldThing } from '../../../machines/fold.ts'
import { thingOf } from '../../../machines/state.ts'
import {
  addPanel,
  air,
  CLEAR_CUP,
  CLEAR_ONLY,
  cupOf,
  DOOR,
  JOB,
  minuteOf,
  outsideOf,
  panelOf,
  queued,
  SEALER_CUP,
  stateOf,
  vanWith,
  WING,
} from '../../support/given.ts'
import { inAnyOrder } from '../../support/interleavings.ts'
import { CLEAR, SEALER } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

/** What two kiosks kept of one pass, and the limits of the shop that were in force at each press. */

const THREE = [{ stage: 'clear', sheet: CLEAR.sheet, coats: 3 }]
const POURED = 'PPPP2222'
const HOOD = 'HHHH2222'
const BOTH = { panels: [DOOR, WING] }
const ONE = { panels: [DOOR] }

/** A door and a wing that takes two minutes to spray. */
const twoPanels = (route: readonly object[] = THREE): Shop =>
  addPanel(vanWith(route), route, { panel: WING, name: 'Wing', areaM2: 1 }).at(120)
const coats = (shop: Shop, panel: string = DOOR) =>
  panelOf(shop, panel).coats.map((c) => [minuteOf(c.startedAt), minuteOf(c.finishedAt)])

describe('within the time of one pass', () => {
  test('a coat that ended and another that began are two, whichever kiosk is back first', () => {
    const after = inAnyOrder(
      twoPanels(),
      [
        [20, 'StartCoat', { ...BOTH, cup: CLEAR_CUP }],
        [20.25, 'FinishCoat', ONE],
        [20.5, 'StartCoat', { ...ONE, cup: CLEAR_CUP }],
      ],
      [[21, 'FinishCoat', BOTH]],
    )
    expect(coats(after)).toEqual([
      [20, 20.25],
      [20.5, 20.5],
    ])
    expect(coats(after, WING)).toEqual([[20, 21]])
  })

  test('what was done by hand between two ends of passes does not keep the second from its coat', () => {
    const SEALED = [{ stage: 'sealer', sheet: SEALER.sheet }, { stage: 'sand' }, ...CLEAR_ONLY]
    const shop = addPanel(vanWith(SEALED), SEALED, { panel: WING, name: 'Wing', areaM2: 1 })
    for (const panel of [DOOR, WING])
      shop.at(4).do('FinishCoat', { panels: [panel], cup: SEALER_CUP })
    const after = inAnyOrder(
      shop.at(120),
      [
        [20.2, 'DoPrepStep', { panel: DOOR, step: 1, grit: 500 }],
        [20.6, 'StartCoat', { ...ONE, cup: SEALER_CUP }],
      ],
      [
        [20.4, 'FinishCoat', BOTH],
        [20.8, 'FinishCoat', BOTH],
      ],
    )
    expect(
      coats(after)
        .slice(1)
        .map(([, endMin]) => endMin),
    ).toEqual([18.4, 20.6])
  })

  test('the end of a pass does not end the coat before, though it is spread to before that ended', () => {
    const after = inAnyOrder(
      twoPanels(),
      [
        [10, 'StartCoat', { ...ONE, cup: CLEAR_CUP }],
        [19.5, 'FinishCoat', ONE],
      ],
      [
        [20, 'StartCoat', { ...BOTH, cup: CLEAR_CUP }],
        [20.5, 'FinishCoat', BOTH],
      ],
    )
    expect(coats(after)).toEqual([
      [10, 19.5],
      [20, 20],
    ])
  })

  test('a pass that was pressed before its panel was there does not end the coat that began when it was added', () => {
    const shop = vanWith(THREE).at(30)
    addPanel(shop, THREE, { panel: WING, name: 'Wing', areaM2: 1 })
    shop.do('StartCoat', { panels: [WING], cup: CLEAR_CUP })
    queued(shop.at(31), 10, 'FinishCoat', { panels: [WING, DOOR] })
    const wing = { kind: 'panel', id: WING } as const
    const read = thingOf(shop.state, wing)
    expect(read).toEqual(foldThing(shop.state, wing, read?.entries ?? []))
    shop.do('FinishCoat', { panels: [WING] })
    expect(coats(shop, WING)).toEqual([[30, 31]])
  })

  test('a panel of a pass is sprayed from its cup, also where it is spread to before that was poured', () => {
    const route = [{ stage: 'sealer', sheet: SEALER.sheet }, { stage: 'clear' }]
    const after = inAnyOrder(
      twoPanels(route),
      [[20, 'PourCup', { cup: POURED, from: [{ cup: CLEAR_CUP }] }]],
      [[21, 'FinishCoat', { ...BOTH, cup: POURED }]],
    )
    expect(
      panelOf(after).coats.map(({ step, finishedAt }) => [step, minuteOf(finishedAt)]),
    ).toEqual([[1, 19]])
    expect(cupOf(after, POURED).usedOn).toEqual([DOOR, WING])
  })

  test('a pass that is ended by two touches is ended once, on each of its panels', () => {
    const shop = twoPanels().at(20)
    shop.do('StartCoat', { ...BOTH, cup: CLEAR_CUP })
    expect(shop.at(20.5).do('FinishCoat', BOTH)).toHaveLength(2)
    expect(shop.at(20.75).do('FinishCoat', BOTH)).toEqual([])
  })

  test('a second touch of a finish is one, also where nobody knew yet how long its panel takes to spray', () => {
    const hood = { job: JOB, panel: HOOD, name: 'Hood', operation: 'repair', areaM2: 0.75 }
    const after = inAnyOrder(
      twoPanels(),
      [[20, 'AddPanel', { ...hood, route: THREE }]],
      [
        [30, 'FinishCoat', { panels: [HOOD] }],
        [31, 'FinishCoat', { panels: [HOOD] }],
        [32.5, 'FinishCoat', { panels: [HOOD] }],
      ],
    )
    expect(coats(after, HOOD).map(([, end]) => end)).toEqual([30, 32.5])
  })

  test('a finish says what was sprayed after it, and where it would have been without its start', () => {
    const shop = twoPanels().at(20)
    shop.do('StartCoat', { ...BOTH, cup: CLEAR_CUP })
    const [door, wing] = shop.at(20.5).do('FinishCoat', BOTH)
    expect([minuteOf(door?.at ?? 0), door?.data.after]).toEqual([
      20,
      [{ panel: WING, sprayMs: 120_000 }],
    ])
    expect([minuteOf(wing?.at ?? 0), wing?.data.after]).toEqual([20.5, undefined])
  })
})

describe('a limit of the shop', () => {
  const slower = { limits: { sprayMinPerM2: 4 } }

  test('is the one that was in force at the press, whichever is sent first', () => {
    const before = twoPanels()
    const changedBefore = inAnyOrder(
      before,
      [[10, 'ChangeSettings', slower]],
      [[30, 'FinishCoat', { ...BOTH, cup: CLEAR_CUP }]],
    )
    expect(coats(changedBefore).map(([, end]) => end)).toEqual([26])
    const changedLater = inAnyOrder(
      before,
      [[40, 'ChangeSettings', slower]],
      [[30, 'FinishCoat', { ...BOTH, cup: CLEAR_CUP }]],
    )
    expect(coats(changedLater).map(([, end]) => end)).toEqual([28])
  })

  test('that is taken back was never in force', () => {
    const shop = twoPanels()
    const [changed] = queued(shop, 10, 'ChangeSettings', slower)
    queued(shop, 30, 'FinishCoat', { ...BOTH, cup: CLEAR_CUP })
    shop.do('VoidEntry', { entry: changed?.id, reason: 'Mistyped' })
    expect(coats(shop).map(([, end]) => end)).toEqual([28])
  })

  test('judges a start by the margin above the dew point of its time', () => {
    const judged = (changedAt: number) => {
      const shop = air(vanWith(CLEAR_ONLY), 1, 20, 0.5, { surfaceC: 16 })
      shop.at(changedAt).do('ChangeSettings', { limits: { dewMarginC: 8 } })
      const [start] = queued(shop.at(60), 5, 'StartCoat', { ...ONE, cup: CLEAR_CUP })
      return outsideOf(start)
    }
    expect([judged(3), judged(8)]).toEqual([['dewPoint'], []])
  })

  test('counts also for the coats of a job that was closed since', () => {
    const shop = twoPanels()
    queued(shop, 30, 'FinishCoat', { ...BOTH, cup: CLEAR_CUP })
    shop.do('CloseJob', { job: JOB, override: { reason: 'Collected' } })
    queued(shop.at(130), 10, 'ChangeSettings', slower)
    expect(stateOf(shop, 'job', JOB)).toBe('closed')
    expect(coats(shop).map(([, end]) => end)).toEqual([26])
  })
})
