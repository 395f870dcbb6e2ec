import { describe, expect, test } from 'vitest'
import { mixesIn } from '../../../machines/cup/mixes.ts'
import { evict } from '../../../machines/evict.ts'
import { follow } from '../../../machines/follow.ts'
import {
  CLEAR_CUP,
  CLEAR_ONLY,
  cupEndMin,
  cupOf,
  mix,
  outsideOf,
  queued,
  shopWith,
  vanWith,
} from '../../support/given.ts'
import { inAnyOrder } from '../../support/interleavings.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

/** What came out of a gun is what was in it, whichever kiosk tells first that it was loaded. */

const GUN = 'gun-1'
const FRESH = 'FFFF2222'
const OTHER = 'GGGG2222'
const NEW = 'NNNN2222'

/** Clear mixed at 0, at 10 and at 30: each lasts an hour. */
function threeMixed() {
  const shop = vanWith(CLEAR_ONLY)
  mix(shop.at(10), OTHER, CLEAR.sheet)
  return mix(shop.at(30), FRESH, CLEAR.sheet).at(300)
}

describe('kiosks that were offline come back', () => {
  test('what went into the gun ends the cup that took it back', () => {
    const shop = inAnyOrder(
      threeMixed(),
      [[31, 'LoadGun', { gun: GUN, cup: CLEAR_CUP }]],
      [[40, 'PourBack', { gun: GUN, cup: FRESH, ml: 60 }]],
    )
    expect(cupEndMin(shop, FRESH)).toBe(60)
  })

  test('on top of what another kiosk had loaded, and with what is poured on from that cup', () => {
    const shop = inAnyOrder(
      threeMixed(),
      [
        [31, 'LoadGun', { gun: GUN, cup: OTHER }],
        [40, 'PourBack', { gun: GUN, cup: FRESH }],
        [45, 'PourCup', { cup: NEW, from: [{ cup: FRESH, ml: 50 }] }],
        [46, 'LoadGun', { gun: 'gun-2', cup: NEW }],
      ],
      [[35, 'LoadGun', { gun: GUN, cup: CLEAR_CUP }]],
    )
    expect([FRESH, NEW].map((cup) => cupEndMin(shop, cup))).toEqual([60, 60])
  })

  test('a gun that was cleaned brought nothing', () => {
    const shop = threeMixed().at(31)
    shop.do('LoadGun', { gun: GUN, cup: CLEAR_CUP })
    const after = inAnyOrder(
      shop.at(300),
      [
        [33, 'CleanGun', { gun: GUN }],
        [34, 'LoadGun', { gun: GUN, cup: OTHER }],
      ],
      [[40, 'PourBack', { gun: GUN, cup: FRESH }]],
    )
    expect(cupEndMin(after, FRESH)).toBe(70)
  })

  test('a clean cup has the clock of all that was in the gun', () => {
    const shop = threeMixed().at(31)
    shop.do('LoadGun', { gun: GUN, cup: FRESH })
    const after = inAnyOrder(
      shop.at(300),
      [[33, 'LoadGun', { gun: GUN, cup: CLEAR_CUP }]],
      [[40, 'PourBack', { gun: GUN, cup: NEW, ml: 120, cleanCup: true }]],
    )
    expect([cupEndMin(after, NEW), cupOf(after, NEW).totalMl]).toEqual([60, 120])
    expect([...cupOf(after, NEW).parents].sort()).toEqual([CLEAR_CUP, FRESH].sort())
  })

  test('a mix without pot life keeps as long as the oldest of what was in the gun', () => {
    const shop = vanWith([{ stage: 'base', sheet: BASE.sheet }])
    mix(shop.at(5), OTHER, BASE.sheet)
    mix(shop.at(1_440), FRESH, BASE.sheet)
    const after = inAnyOrder(
      shop.at(1_800),
      [[1_450, 'LoadGun', { gun: GUN, cup: OTHER }]],
      [[1_460, 'PourBack', { gun: GUN, cup: FRESH }]],
    )
    const { keepUntilMs, firstMixedAt } = cupOf(after, FRESH)
    expect([keepUntilMs, firstMixedAt]).toEqual([cupOf(after, OTHER).keepUntilMs, minute(5)])
  })

  test('what was done with the cup of a gun is told of what came out of it, though it was loaded before', () => {
    const shop = vanWith([{ stage: 'base', sheet: BASE.sheet }])
    mix(shop.at(5), OTHER, BASE.sheet).at(10).do('LoadGun', { gun: GUN, cup: OTHER })
    const after = inAnyOrder(
      shop.at(90),
      [[20, 'CheckCup', { cup: OTHER, done: ['stirred'] }]],
      [[30, 'PourBack', { gun: GUN, cup: NEW, ml: 100, cleanCup: true }]],
    )
    expect(cupOf(after, NEW).checked?.done).toEqual(['stirred'])
  })

  test('the slower activator of what was in the gun is in the cup', () => {
    const [slow, fast] = CLEAR.activators.map(({ name }) => name)
    const shop = shopWith()
    mix(shop, CLEAR_CUP, CLEAR.sheet, { activator: slow })
    mix(shop, FRESH, CLEAR.sheet, { activator: fast })
    const after = inAnyOrder(
      shop.at(90),
      [[5, 'LoadGun', { gun: GUN, cup: CLEAR_CUP }]],
      [[6, 'PourBack', { gun: GUN, cup: FRESH }]],
    )
    expect(mixesIn(cupOf(after, FRESH)).map(({ activator }) => activator)).toEqual([fast, slow])
  })
})

test('what nobody had told is said of the press, and the cup is judged by what is known since', () => {
  const shop = threeMixed()
  const [entry] = queued(shop, 40, 'PourBack', { gun: GUN, cup: FRESH })
  expect([outsideOf(entry), cupEndMin(shop, FRESH)]).toEqual([['gunEmpty'], 90])
  queued(shop, 31, 'LoadGun', { gun: GUN, cup: CLEAR_CUP })
  expect(cupEndMin(shop, FRESH)).toBe(60)
})

test('a load that is taken back as a mistake came out of no gun', () => {
  const shop = threeMixed().at(31)
  const [load] = shop.do('LoadGun', { gun: GUN, cup: CLEAR_CUP })
  shop.at(40).do('PourBack', { gun: GUN, cup: FRESH })
  expect(cupEndMin(shop, FRESH)).toBe(60)
  shop.do('VoidEntry', { entry: load?.id, reason: 'another gun' })
  expect(cupEndMin(shop, FRESH)).toBe(90)
})

describe('a cup keeps what it took from a gun', () => {
  /** Base of a day before was loaded, and said later than what came back into the fresh one. */
  function takenLate(): Shop {
    const shop = vanWith([{ stage: 'base', sheet: BASE.sheet }])
    mix(shop.at(5), OTHER, BASE.sheet)
    mix(shop.at(1_440), FRESH, BASE.sheet).at(1_800)
    queued(shop, 1_460, 'PourBack', { gun: GUN, cup: FRESH })
    queued(shop, 1_450, 'LoadGun', { gun: GUN, cup: OTHER })
    return shop
  }
  /** Only what is open work stays; then something is said late, and the cup is folded again by what is there. */
  function foldedAgain(shop: Shop): Shop {
    shop.at(1_930 + 4 * 1_440)
    shop.state = evict(shop.state, shop.now)
    queued(shop, 1_455, 'MoveCup', { cup: FRESH, zone: 'bay' })
    return shop
  }
  const oldest = minute(5 + 30 * 1_440)

  test('that was loaded so often since that it holds no more of that time', () => {
    const shop = takenLate()
    for (let min = 1_900; min < 1_930; min += 1) {
      shop.at(min).do('CleanGun', { gun: GUN })
      shop.do('LoadGun', { gun: GUN, cup: FRESH })
    }
    shop.do('CleanGun', { gun: GUN })
    expect(cupOf(foldedAgain(shop), FRESH).keepUntilMs).toBe(oldest)
  })

  test('where the cup that was loaded is over', () => {
    const shop = takenLate().at(1_900)
    shop.do('EmptyCup', { cup: OTHER, how: 'used' })
    expect(cupOf(foldedAgain(shop), FRESH).keepUntilMs).toBe(oldest)
    expect(shop.state.things.cup[OTHER]).toBeUndefined()
  })
})

test('what is told late of a cup that was joined with one that is over is asked of the server by a kiosk', () => {
  const month = 30 * 24 * 60
  const shop = mix(vanWith(CLEAR_ONLY).at(month), FRESH, CLEAR.sheet).at(month + 30)
  const from = [{ cup: CLEAR_CUP, ml: 10 }, { cup: FRESH }]
  queued(shop, month + 10, 'PourCup', { cup: NEW, from })
  const copy = evict(shop.state, shop.now)
  expect(copy.things.cup[CLEAR_CUP]).toBeUndefined()
  const followed = (min: number) => {
    const told = shop.fork()
    queued(told, min, 'PrintLabel', { cup: FRESH })
    const entry = told.entries.at(-1)
    return entry && follow(copy, entry, shop.now)
  }
  expect(followed(month + 5)).toBeNull()
  expect(followed(month + 20)).not.toBeNull()
})

test('what was mixed into what came back is told in one order, also once one of its cups is evicted', () => {
  const [slow, fast] = CLEAR.activators.map(({ name }) => name)
  const shop = shopWith()
  mix(shop, OTHER, CLEAR.sheet, { activator: slow })
  shop.do('LoadGun', { gun: GUN, cup: OTHER })
  mix(shop.at(5), CLEAR_CUP, CLEAR.sheet, { activator: fast })
  shop.do('LoadGun', { gun: GUN, cup: CLEAR_CUP })
  mix(shop.at(6), FRESH, CLEAR.sheet)
  shop.at(10).do('PourBack', { gun: GUN, cup: FRESH })
  shop.at(11).do('EmptyCup', { cup: OTHER, how: 'used' })
  const mixes = (of: Shop) => mixesIn(cupOf(of, FRESH)).map(({ activator }) => activator)
  const lean = shop.fork().at(13 * 60)
  lean.state = evict(shop.state, lean.now)
  expect(lean.state.things.cup[OTHER]).toBeUndefined()
  for (const one of [lean, shop.at(13 * 60)]) queued(one, 7, 'PrintLabel', { cup: FRESH })
  expect(mixes(lean)).toEqual(mixes(shop))
})
