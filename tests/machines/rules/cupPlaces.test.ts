import { describe, expect, test } from 'vitest'
import { deadlines } from '../../../machines/deadlines.ts'
import {
  air,
  around,
  bells,
  CLEAR_CUP,
  CLEAR_ONLY,
  cupOf,
  DOOR,
  dueMin,
  gunOf,
  JOB,
  keyOf,
  minuteOf,
  mix,
  queued,
  refusalOf,
  said,
  startCoat,
  stateOf,
  vanWith,
} from '../../support/given.ts'
import { inAnyOrder } from '../../support/interleavings.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

const GUN = 'gun-1'
const FRESH = 'FFFF2222'
const STORED = 'TTTT2222'
const bench = (shop: Shop, min: number, airC: number) =>
  air(shop, min, airC, 0.5, { zone: 'bench' })

/** A clear of 60 min at 20 °C, mixed at 20 °C on the bench; in the booth it is 30 °C: twice as fast. */
function hotBooth(): Shop {
  const shop = vanWith(CLEAR_ONLY)
  for (let min = 0; min <= 60; min += 20) air(bench(shop, min, 20), min, 30)
  return shop.at(0)
}
const potOver = (shop: Shop, cup = CLEAR_CUP) => {
  const bell = deadlines(shop.state).find(({ key }) => key === `potOver:${cup}`)
  return bell && minuteOf(bell.dueAt)
}

describe('the clock of a cup runs in the zone that it is in', () => {
  test('on the bench until it is taken up, then in the booth where it is sprayed', () => {
    expect(potOver(hotBooth())).toBe(60)
    const shop = hotBooth().at(20)
    startCoat(CLEAR_CUP)(shop)
    // 20 of 60 min at the bench; the other 40 go twice as fast.
    expect(potOver(shop)).toBe(40)
    expect(around(shop, 40, (s) => s.send('LoadGun', { gun: GUN, cup: CLEAR_CUP }))).toEqual([
      'done',
      'potLifeOver',
    ])
  })

  test('a load takes it to where the panels wait for it, a coat told later as well', () => {
    const shop = hotBooth().at(10)
    const [load] = shop.do('LoadGun', { gun: GUN, cup: CLEAR_CUP })
    expect(load).toMatchObject({ zone: 'booth', data: { cupZone: 'booth' } })
    expect([potOver(shop), dueMin(shop, 'gunDue')]).toEqual([35, 35])
    const late = hotBooth().at(50)
    queued(late, 10, 'FinishCoat', { panels: [DOOR], cup: CLEAR_CUP })
    expect(potOver(late)).toBe(35)
  })

  test('no panel of a closed job waits for it', () => {
    const shop = hotBooth().at(10)
    shop.do('CloseJob', { job: JOB, override: { reason: 'Collected' } })
    const [load] = shop.do('LoadGun', { gun: GUN, cup: CLEAR_CUP })
    expect([load?.zone, load?.data.cupZone]).toEqual([undefined, undefined])
  })

  test('a zone may be named with the load', () => {
    const shop = hotBooth().at(10)
    shop.do('LoadGun', { gun: GUN, cup: CLEAR_CUP, zone: 'bench' })
    expect(potOver(shop)).toBe(60)
  })

  test('carried and not used it gains in the cold, and carried back it loses that again', () => {
    const shop = vanWith(CLEAR_ONLY)
    for (let min = 0; min <= 60; min += 20) air(bench(shop, min, 30), min, 20)
    shop.at(10).do('MoveCup', { cup: CLEAR_CUP, zone: 'booth' })
    // 10 min at 30 °C are 20 of the 60.
    expect(potOver(shop)).toBe(50)
    shop.at(20).do('MoveCup', { cup: CLEAR_CUP, zone: 'bench' })
    expect(potOver(shop)).toBe(35)
    expect(cupOf(shop, CLEAR_CUP).zone).toBe('bench')
  })

  test('once used, the warmer of where it was mixed and where it is counts', () => {
    const shop = vanWith(CLEAR_ONLY)
    for (let min = 0; min <= 60; min += 20) air(bench(shop, min, 30), min, 20)
    startCoat(CLEAR_CUP)(shop.at(10))
    expect(potOver(shop)).toBe(30)
  })

  test('a panel whose move is told late takes the cup with it', () => {
    const told = (order: readonly (() => void)[]) => {
      for (const tell of order) tell()
    }
    const made = () => {
      const shop = hotBooth()
      for (let min = 0; min <= 60; min += 20) air(shop, min, 20, 0.5, { zone: 'prep' })
      return shop.at(50)
    }
    const [one, other] = [made(), made()]
    const move = (shop: Shop) => () =>
      queued(shop, 5, 'MovePanel', { panel: DOOR, zone: 'prep' }, { id: 'm' })
    const coat = (shop: Shop) => () =>
      queued(shop, 10, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP }, { id: 's' })
    told([move(one), coat(one)])
    told([coat(other), move(other)])
    expect([potOver(one), potOver(other)]).toEqual([60, 60])
    expect(cupOf(one, CLEAR_CUP).zone).toBe('prep')
  })

  test('a panel whose move was a mistake was not taken with its cup', () => {
    const shop = hotBooth()
    for (let min = 0; min <= 60; min += 20) air(shop, min, 20, 0.5, { zone: 'prep' })
    shop.at(5).do('MovePanel', { panel: DOOR, zone: 'prep' }, { id: 'moved' })
    startCoat(CLEAR_CUP)(shop.at(10))
    expect(potOver(shop)).toBe(60)
    shop.at(12).do('VoidEntry', { entry: 'moved.0', reason: 'another panel' })
    expect([cupOf(shop, CLEAR_CUP).zone, potOver(shop)]).toEqual(['booth', 35])
  })

  test('what is poured from a used cup keeps its clock', () => {
    const shop = hotBooth().at(20)
    startCoat(CLEAR_CUP)(shop)
    shop.at(22).do('PourCup', { cup: FRESH, from: [{ cup: CLEAR_CUP }] })
    shop.at(23).do('MoveCup', { cup: FRESH, zone: 'bench' })
    // In the booth from 20 to 23, then back where it was mixed, at 20 °C in both lines.
    expect(potOver(shop, FRESH)).toBe(57)
  })

  test('also where the use comes from another kiosk after the pour', () => {
    const told = (isInOrder: boolean) => {
      const shop = hotBooth().at(60)
      const use = () =>
        queued(shop, 20, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP }, { id: 's', device: 'k1' })
      const pour = () =>
        queued(
          shop,
          22,
          'PourCup',
          { cup: FRESH, from: [{ cup: CLEAR_CUP }] },
          { id: 'p', device: 'k2' },
        )
      for (const one of isInOrder ? [use, pour] : [pour, use]) one()
      const { zone, clocks } = cupOf(shop, FRESH)
      return { zone, clocks, potOver: potOver(shop, FRESH) }
    }
    expect(told(false)).toEqual(told(true))
    expect(told(true).zone).toBe('booth')
  })

  test('and of what has no clock its place is told alike', () => {
    const shop = mix(vanWith(CLEAR_ONLY), STORED, BASE.sheet).at(60)
    const load = { gun: GUN, cup: STORED, zone: 'booth' }
    const pour = { cup: FRESH, from: [{ cup: STORED, ml: 50 }] }
    const inOrder = [
      [20, 'LoadGun', load],
      [22, 'PourCup', pour],
    ] as const
    const before = inAnyOrder(shop, [inOrder[0]], [inOrder[1]])
    expect(cupOf(before, FRESH).zone).toBe('booth')
    // Where it is now is the same by its second use, whenever the first is told.
    const again = inAnyOrder(shop, [inOrder[0]], [inOrder[1], [24, 'LoadGun', load]])
    expect(cupOf(again, FRESH).zone).toBe('booth')
  })

  test('of one mix that stood in two places each keeps its way, whenever it is told that they are joined', () => {
    const pour = { cup: FRESH, from: [{ cup: CLEAR_CUP, ml: 50 }] }
    const use = { panels: [DOOR], cup: CLEAR_CUP }
    const join = { cup: STORED, from: [{ cup: FRESH }, { cup: CLEAR_CUP, ml: 50 }] }
    const shop = inAnyOrder(
      hotBooth().at(60),
      [
        [10, 'PourCup', pour],
        [20, 'StartCoat', use],
      ],
      [[30, 'PourCup', join]],
    )
    // What stayed at the bench, and what was in the booth from 20 on, at twice the speed.
    expect(cupOf(shop, STORED).clocks.map(({ moves }) => moves?.length ?? 0)).toEqual([0, 1])
    expect(potOver(shop, STORED)).toBe(40)
  })

  test('an emptied or unknown cup is not carried', () => {
    const shop = vanWith(CLEAR_ONLY)
    expect(said(shop.send('MoveCup', { cup: FRESH, zone: 'booth' }))).toBe('cupUnknown')
    shop.do('EmptyCup', { cup: CLEAR_CUP, how: 'used' })
    expect(said(shop.send('MoveCup', { cup: CLEAR_CUP, zone: 'booth' }))).toBe('cupEmptied')
  })
})

describe('a gun that is topped up', () => {
  /** Clear mixed at 0 and loaded, then fresh clear mixed at 30. */
  function toppedUp(): Shop {
    const shop = vanWith(CLEAR_ONLY)
    shop.do('LoadGun', { gun: GUN, cup: CLEAR_CUP })
    mix(shop.at(30), FRESH, CLEAR.sheet)
    return shop
  }
  const load = (shop: Shop, cup: string) => shop.do('LoadGun', { gun: GUN, cup })

  test('from another cup is due when the first one is, and its bells stay', () => {
    const shop = toppedUp()
    const before = keyOf(shop, 'gunDue')
    load(shop, FRESH)
    expect([dueMin(shop, 'gunDue'), keyOf(shop, 'gunDue')]).toEqual([60, before])
    expect(stateOf(shop, 'gun', GUN)).toBe('loaded')
    load(shop.at(40), CLEAR_CUP)
    expect([dueMin(shop, 'gunDue'), gunOf(shop, GUN)?.loads.length]).toEqual([60, 2])
  })

  test('asks nothing of the same cup again', () => {
    const shop = toppedUp()
    load(shop, CLEAR_CUP)
    expect([dueMin(shop, 'gunDue'), gunOf(shop, GUN)?.loads.length]).toEqual([60, 1])
  })

  test('is refused a fresh cup once what is in it is over', () => {
    const shop = toppedUp()
    load(shop, FRESH)
    expect(around(shop, 60, startCoat(FRESH, { gun: GUN }))).toEqual(['done', 'gunHolds'])
  })

  test('and rinsed goes by the fresh cup', () => {
    const shop = toppedUp()
    load(shop, FRESH)
    shop.at(31).do('RinseGun', { gun: GUN, solvent: 'thinner' })
    expect([stateOf(shop, 'gun', GUN), dueMin(shop, 'gunDue')]).toEqual(['rinsed', undefined])
    load(shop, FRESH)
    expect([stateOf(shop, 'gun', GUN), dueMin(shop, 'gunDue')]).toEqual(['loaded', 90])
    expect(said(startCoat(FRESH, { gun: GUN })(shop.at(60)))).toBe('done')
  })

  test('rinsed is not clean: another product wants cleaning', () => {
    const shop = toppedUp()
    mix(shop, 'EEEE3333', 'sealer-2k')
    shop.do('RinseGun', { gun: GUN })
    const other = shop.send('LoadGun', { gun: GUN, cup: 'EEEE3333' })
    expect(refusalOf(other).message).toBe('Gun gun-1 holds 2K clear, 2:1. Clean it first.')
    shop.do('CleanGun', { gun: GUN })
    expect(said(shop.send('LoadGun', { gun: GUN, cup: 'EEEE3333' }))).toBe('done')
  })

  test('with two materials in it is not rinsed', () => {
    const shop = toppedUp()
    mix(shop, 'EEEE3333', 'sealer-2k')
    shop.do('LoadGun', { gun: GUN, cup: 'EEEE3333', override: { reason: 'same binder' } })
    expect(said(shop.send('RinseGun', { gun: GUN }))).toBe('gunHolds')
    expect(stateOf(shop, 'gun', GUN)).toBe('dirty')
  })

  test('a clean gun may be rinsed, and stays clean', () => {
    const shop = vanWith(CLEAR_ONLY)
    shop.do('RinseGun', { gun: GUN })
    expect(stateOf(shop, 'gun', GUN) ?? 'clean').toBe('clean')
    mix(shop, 'GGGG2222', BASE.sheet)
    expect(said(shop.send('LoadGun', { gun: GUN, cup: 'GGGG2222' }))).toBe('done')
  })

  test('rings before: a fifth of its time, ten minutes at least', () => {
    const shop = vanWith(CLEAR_ONLY)
    shop.do('LoadGun', { gun: GUN, cup: CLEAR_CUP })
    expect(bells(shop, 'gunNear', 'gunDue')).toEqual([
      ['gunNear', 48],
      ['gunDue', 60],
    ])
  })
})
