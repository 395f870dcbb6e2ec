import { describe, expect, test } from 'vitest'
import {
  addPanel,
  bells,
  CLEAR_CUP,
  coat,
  cupOf,
  DOOR,
  evicted,
  gunOf,
  JOB,
  mix,
  panelOf,
  queued,
  SEALER_CUP,
  shopWith,
  stateOf,
  vanWith,
  WING,
  whereIs,
} from '../../support/given.ts'
import { inAnyOrder } from '../../support/interleavings.ts'
import { expectSame } from '../../support/randomStates.ts'
import { BASE, CLEAR, SEALER } from '../../support/sheets.ts'
import { minute } from '../../support/shop.ts'

/** What two kiosks kept while they were offline comes to the same, whichever of them is back first. */

const MIXED = 'FFFF2222'
const POURED = 'GGGG2222'
const SANDED = [
  { stage: 'sealer', sheet: SEALER.sheet },
  { stage: 'sand' },
  { stage: 'clear', sheet: CLEAR.sheet, coats: 1 },
  { stage: 'clear', sheet: CLEAR.sheet },
]

describe('in whatever order two kiosks come back', () => {
  test('a coat that one started over sanded primer and the other finished flashes as clear', () => {
    const shop = coat(vanWith(SANDED), SEALER_CUP, 1, 3).at(120)
    const after = inAnyOrder(
      shop,
      [[64, 'FinishCoat', { panels: [DOOR] }]],
      [
        [50, 'DoPrepStep', { panel: DOOR, step: 1, grit: 500 }],
        [60, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP }],
      ],
    )
    expect(panelOf(after).coats.map((c) => c.opens?.sheet)).toEqual([SEALER.sheet, CLEAR.sheet])
    expect(bells(after, 'coatReady', 'windowShut')).toEqual([
      ['coatReady', 74],
      ['windowShut', 544],
    ])
  })

  test('a coat whose cup never becomes known flashes as what its step names', () => {
    const shop = coat(vanWith(SANDED), SEALER_CUP, 1, 3).at(120)
    const after = inAnyOrder(
      shop,
      [[64, 'FinishCoat', { panels: [DOOR] }]],
      [
        [50, 'DoPrepStep', { panel: DOOR, step: 1, grit: 500 }],
        [60, 'StartCoat', { panels: [DOOR], cup: MIXED }],
      ],
    )
    expect(panelOf(after).coats.at(-1)?.opens?.sheet).toBe(CLEAR.sheet)
  })

  test('a gun that was loaded from a cup which the other mixed and labeled is due', () => {
    const after = inAnyOrder(
      shopWith().at(120),
      [
        [5, 'MixCup', { cup: MIXED, sheet: CLEAR.sheet, totalMl: 300 }],
        [6, 'PrintLabel', { cup: MIXED }],
      ],
      [[7, 'LoadGun', { gun: 'gun-1', cup: MIXED }]],
    )
    expect(gunOf(after, 'gun-1')?.loads.map((l) => l.sheet)).toEqual([CLEAR.sheet])
    expect(bells(after, 'gunDue')).toEqual([['gunDue', 65]])
  })

  test('a cup poured from one that the other mixed has its pot life, and so has a cup poured from that', () => {
    const after = inAnyOrder(
      shopWith().at(120),
      [[5, 'MixCup', { cup: MIXED, sheet: CLEAR.sheet, totalMl: 300 }]],
      [
        [10, 'PourCup', { cup: POURED, from: [{ cup: MIXED, ml: 100 }] }],
        [12, 'PourCup', { cup: 'HHHH2222', from: [{ cup: POURED }] }],
        [13, 'LoadGun', { gun: 'gun-1', cup: 'HHHH2222' }],
      ],
    )
    expect([cupOf(after, MIXED).pouredMl, cupOf(after, POURED).totalMl]).toEqual([100, 100])
    expect([stateOf(after, 'cup', POURED), stateOf(after, 'cup', 'HHHH2222')]).toEqual([
      'emptied',
      'live',
    ])
    expect(bells(after, 'potOver', 'gunDue').map(([, min]) => min)).toEqual([65, 65, 65])
  })

  test('what was left in a cup is what the earlier pour left of it', () => {
    const shop = mix(shopWith(), CLEAR_CUP, CLEAR.sheet).at(120)
    const after = inAnyOrder(
      shop,
      [[5, 'PourCup', { cup: POURED, from: [{ cup: CLEAR_CUP, ml: 100 }] }]],
      [[9, 'PourCup', { cup: MIXED, from: [{ cup: CLEAR_CUP }] }]],
    )
    expect([cupOf(after, CLEAR_CUP).pouredMl, cupOf(after, MIXED).totalMl]).toEqual([300, 200])
  })

  test('a coat from a cup that the other mixed goes to the step of that product', () => {
    const route = [
      { stage: 'base', sheet: BASE.sheet },
      { stage: 'clear', sheet: CLEAR.sheet },
    ]
    const after = inAnyOrder(
      addPanel(shopWith(), route).at(120),
      [[5, 'MixCup', { cup: MIXED, sheet: CLEAR.sheet, totalMl: 300, activator: 'slow' }]],
      [
        [10, 'StartCoat', { panels: [DOOR], cup: MIXED, gun: 'gun-1' }],
        [14, 'FinishCoat', { panels: [DOOR] }],
        [15, 'EmptyCup', { cup: MIXED, how: 'used' }],
      ],
    )
    expect(panelOf(after).coats.map((c) => [c.step, c.opens?.sheet])).toEqual([[1, CLEAR.sheet]])
    expect([stateOf(after, 'cup', MIXED), stateOf(after, 'gun', 'gun-1')]).toEqual([
      'emptied',
      'loaded',
    ])
  })

  test.each([
    ['a close', 'CloseJob', { job: JOB, override: { reason: 'Collected' } }, 'clear.between'],
    ['a removal', 'RemovePanel', { panel: DOOR }, 'removed'],
  ])('%s that was pressed later takes the coats before it', (_, type, data, where) => {
    const shop = vanWith([{ stage: 'clear', sheet: CLEAR.sheet }]).at(120)
    const after = inAnyOrder(
      shop,
      [[30, type, data]],
      [
        [5, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP }],
        [9, 'FinishCoat', { panels: [DOOR] }],
        [10, 'MovePanel', { panel: DOOR, zone: 'yard' }],
      ],
    )
    expect([panelOf(after).coats.length, whereIs(after)]).toEqual([1, where])
    expect(bells(after, 'coatReady', 'windowShut')).toEqual([])
  })

  test('what was taken from a cup that came later stays when that cup is evicted', () => {
    const shop = addPanel(shopWith(), [{ stage: 'clear' }]).at(120)
    queued(shop, 10, 'LoadGun', { gun: 'gun-1', cup: MIXED })
    queued(shop, 11, 'StartCoat', { panels: [DOOR], cup: MIXED, gun: 'gun-1' })
    queued(shop, 14, 'FinishCoat', { panels: [DOOR], cup: MIXED })
    queued(shop, 15, 'PourCup', { cup: POURED, from: [{ cup: MIXED, ml: 50 }] })
    queued(shop, 5, 'MixCup', { cup: MIXED, sheet: CLEAR.sheet, totalMl: 300, activator: 'slow' })
    queued(shop, 16, 'EmptyCup', { cup: MIXED, how: 'used' })
    const gone = evicted(shop, 14 * 60)
    expect([stateOf(gone, 'cup', MIXED), stateOf(shop, 'cup', MIXED)]).toEqual([
      undefined,
      'emptied',
    ])
    for (const later of [gone, shop.at(14 * 60)]) {
      queued(later, 9, 'AbradePanel', { panel: DOOR, grit: 500 })
      queued(later, 9, 'CleanGun', { gun: 'gun-1', solvent: 'gun wash' })
      queued(later, 60, 'EmptyCup', { cup: POURED, how: 'used' })
    }
    expect(panelOf(gone).coats[0]?.opens?.sheet).toBe(CLEAR.sheet)
    expectSame(panelOf(gone).coats, panelOf(shop).coats)
    expectSame(gunOf(gone, 'gun-1')?.loads, gunOf(shop, 'gun-1')?.loads)
    expectSame(cupOf(gone, POURED), cupOf(shop, POURED))
  })

  test('a pass of which one panel is known to be finished has the same finishes', () => {
    const shop = addPanel(vanWith([{ stage: 'clear' }]), [{ stage: 'clear' }], { panel: WING })
    const after = inAnyOrder(
      shop.at(120),
      [[5, 'FinishCoat', { panels: [DOOR] }]],
      [[5.5, 'FinishCoat', { panels: [DOOR, WING] }]],
    )
    expect([panelOf(after).coats.length, panelOf(after, WING).coats.length]).toEqual([1, 1])
    expect(panelOf(after, WING).coats[0]?.entry).toBe('k2-0.1')
  })

  test('one finish that both pressed is one coat', () => {
    const shop = vanWith([{ stage: 'clear', sheet: CLEAR.sheet }])
    shop.at(1).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    const after = inAnyOrder(
      shop.at(120),
      [[5, 'FinishCoat', { panels: [DOOR] }]],
      [[5.5, 'FinishCoat', { panels: [DOOR] }]],
    )
    expect(panelOf(after).coats.map((c) => c.finishedAt)).toEqual([minute(5)])
  })

  test('a cure that was begun before a new route was known is the cure of that route', () => {
    const shop = vanWith([
      { stage: 'prep' },
      { stage: 'clear', sheet: CLEAR.sheet, coats: 1 },
      { stage: 'sand' },
      { stage: 'cure' },
      { stage: 'polish' },
    ]).at(120)
    const route = [{ stage: 'clear', sheet: CLEAR.sheet, coats: 1 }, { stage: 'cure' }]
    const after = inAnyOrder(
      shop,
      [[50, 'StartCure', { panels: [DOOR], mode: 'air' }]],
      [
        [5, 'SetRoute', { panel: DOOR, route }],
        [10, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP }],
        [14, 'FinishCoat', { panels: [DOOR], cup: CLEAR_CUP }],
      ],
    )
    expect(whereIs(after)).toBe('cure.running')
    expect(panelOf(after).cure?.figures.air).toEqual(panelOf(after).coats[0]?.opens?.cure?.air)
  })

  test('a coat with its own start is one of its own, though it was taken for the end of another', () => {
    const shop = vanWith([{ stage: 'clear', sheet: CLEAR.sheet, coats: 3 }]).at(120)
    const typed = { panels: [DOOR], cup: CLEAR_CUP, startedAt: minute(30) }
    const after = inAnyOrder(
      shop,
      [
        [31, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP }],
        [31.5, 'FinishCoat', typed],
      ],
      [[31.25, 'FinishCoat', { panels: [DOOR], cup: CLEAR_CUP }]],
    )
    expect(panelOf(after).coats.map((c) => c.finishedAt)).toEqual([minute(31.25), minute(31.5)])
  })

  test('a pass that was finished before its start was known is of the product that was started', () => {
    const route = [
      { stage: 'sealer', sheet: SEALER.sheet, coats: 1 },
      { stage: 'sand' },
      { stage: 'clear', sheet: CLEAR.sheet },
    ]
    const shop = addPanel(vanWith(route), route, { panel: WING, areaM2: 1 })
    for (const panel of [DOOR, WING]) coat(shop, SEALER_CUP, 1, 3, { panels: [panel] })
    const after = inAnyOrder(
      shop.at(120),
      [[20.5, 'StartCoat', { panels: [DOOR, WING], cup: CLEAR_CUP }]],
      [[21, 'FinishCoat', { panels: [DOOR, WING] }]],
    )
    const last = [DOOR, WING].map((id) => panelOf(after, id).coats.at(-1))
    expect(last.map((c) => [c?.step, c?.opens?.sheet, c?.startedAt])).toEqual([
      [2, CLEAR.sheet, minute(20.5)],
      [2, CLEAR.sheet, minute(20.5)],
    ])
  })
})
