import { describe, expect, test } from 'vitest'
import { readingsOf } from '../../../machines/climate/fold.ts'
import { deadlines } from '../../../machines/deadlines.ts'
import type { State } from '../../../machines/state.ts'
import {
  addPanel,
  air,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_CURE,
  CLEAR_ONLY,
  coat,
  DOOR,
  evicted,
  evictedState,
  gunOf,
  JOB,
  MS,
  minuteOf,
  mix,
  outsideOf,
  SEALER_CUP,
  shopWith,
  vanWith,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import { MINUTE, minute, Shop } from '../../support/shop.ts'

/** What zones and guns hold of their past, and what is said of it when it comes late. */

const DAY = 24 * 60
const at = evictedState
const override = { reason: 'Collected' }
describe('climate', () => {
  const read = (shop: Shop, ...mins: number[]): Shop =>
    mins.reduce((s, min, i) => air(s, min, 18 + i), shop)
  const kept = (state: State, zone = 'booth') => readingsOf(state, zone).map((r) => minuteOf(r.at))
  const TAIL = 2 * DAY

  test('is held for two days where no clock runs, from the reading on that held then', () => {
    const shop = read(new Shop(), 0, 1, 2)
    expect(kept(at(shop, 1 + TAIL - MS))).toEqual([0, 1, 2])
    expect(kept(at(shop, 1 + TAIL))).toEqual([1, 2])
    expect(kept(at(shop, 50 * DAY))).toEqual([2])
  })

  test('is held for as long as a coat flashed or its window stood, and not after', () => {
    const shop = read(shopWith(), 0, 700, 779, 795, 805, 830)
    mix(addPanel(shop.at(840), CLEAR_ONLY), CLEAR_CUP, CLEAR.sheet)
    coat(shop, CLEAR_CUP, 850, 860)
    shop.do('EmptyCup', { cup: CLEAR_CUP, how: 'used' })
    read(shop, 870, 1_300, 1_341, 1_400, 1_500)
    // The window is 480 min at 20 °C; it opened at 860. A surface measured at 830 would still count.
    expect(kept(at(shop, 9 * DAY))).toEqual([830, 870, 1_300, 1_500])
    expect(deadlines(at(shop, 9 * DAY))).toEqual(deadlines(shop.state))
  })

  test('is held of the last fourteen days for a window that is open for longer', () => {
    const sheet = { ...CLEAR, recoatWithin: [{ atC: 20, minutes: 60 * DAY }] }
    const shop = coat(
      mix(addPanel(shopWith([sheet]), CLEAR_ONLY), CLEAR_CUP, CLEAR.sheet),
      CLEAR_CUP,
      1,
      5,
    )
    const days = [...Array(40).keys()].map((day) => (day + 1) * DAY)
    for (const min of days) air(shop, min, 20)
    const held = at(shop, 40 * DAY)
    // Those of the flash stay too, with the reading that ended the time in which nothing was known.
    expect(kept(held)).toEqual([DAY, ...days.slice(25)])
    // At 20 °C it is the sheet's own figure, which is also its most cautious.
    const ofPanels = (state: State) => deadlines(state).filter((d) => d.thing.kind === 'panel')
    expect(ofPanels(held)).toEqual(ofPanels(shop.state))
  })

  test('that was evicted counts as the most cautious of the figures for a clock that began before', () => {
    const points = [
      { atC: 20, minutes: 60 * DAY },
      { atC: 30, minutes: 30 * DAY },
    ]
    const sheet = { ...CLEAR, recoatWithin: points }
    const shop = coat(
      mix(addPanel(shopWith([sheet]), CLEAR_ONLY), CLEAR_CUP, CLEAR.sheet),
      CLEAR_CUP,
      1,
      5,
    )
    for (let min = 10; min < 60 * DAY; min += 20) air(shop, min, 20 + (min % 3) / 2)
    const shuts = (state: State) =>
      deadlines(state).find((d) => d.bell === 'windowShut')?.dueAt ?? 0
    const [whole, held] = [shuts(shop.state), shuts(at(shop, 28 * DAY))]
    expect(minuteOf(whole)).toBeGreaterThan(50 * DAY)
    // Fourteen days at twice the pace, fourteen as they were measured, and the rest.
    expect(minuteOf(held)).toBeGreaterThan(40 * DAY)
    expect(held).toBeLessThan(whole - 10 * DAY * MINUTE)
  })

  test.each<[string, number, (shop: Shop) => unknown]>([
    [
      'a base cup that is kept for 30 days',
      10,
      (s) => mix(s, BASE_CUP, BASE.sheet, { zone: 'booth' }),
    ],
    [
      'a window without an end',
      20,
      (s) => {
        mix(addPanel(s, CLEAR_ONLY), CLEAR_CUP, CLEAR.sheet)
        coat(s, CLEAR_CUP, 11, 15).do('EmptyCup', { cup: CLEAR_CUP, how: 'used' })
      },
    ],
    [
      'a job that is closed',
      20,
      (s) => {
        mix(addPanel(s, CLEAR_CURE), CLEAR_CUP, CLEAR.sheet)
        coat(coat(s, CLEAR_CUP, 11, 12), CLEAR_CUP, 24, 25)
        s.do('EmptyCup', { cup: CLEAR_CUP, how: 'used' })
        s.at(40).do('StartCure', { panels: [DOOR], mode: 'air' })
        s.do('CloseJob', { job: JOB, override })
      },
    ],
  ])('is not held by %s', (_, until, happens) => {
    const shop = read(shopWith([BASE, { ...CLEAR, recoatWithin: 'unlimited', over: [] }]), 0, 10)
    happens(shop)
    for (let day = 1; day <= 10; day += 1) air(shop, day * DAY, 10 + day)
    const held = kept(at(shop, 10 * DAY)).filter((min) => min > 60)
    expect([held, until > 0]).toEqual([[8 * DAY, 9 * DAY, 10 * DAY], true])
  })

  test('is held for a cure, a cup and a loaded gun too, each in its own zone', () => {
    const shop = coat(coat(vanWith(CLEAR_CURE), CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
    read(shop, 16, 30)
    shop.at(40).do('StartCure', { panels: [DOOR], mode: 'air' })
    read(shop, 300, 759, 761, 2_000)
    // Twelve hours at 20 °C; in the cold it takes longer, and then more is held.
    expect(kept(at(shop, 9 * DAY)).slice(0, 4)).toEqual([16, 30, 300, 759])
    const gun = mix(shopWith(), CLEAR_CUP, CLEAR.sheet, { zone: 'bench' })
    for (const min of [0, 30, 59, 61, 90, 5 * DAY]) air(gun, min, 20, 0.5, { zone: 'bench' })
    gun.at(61).do('LoadGun', { gun: 'gun-1', cup: CLEAR_CUP, override })
    gun.do('EmptyCup', { cup: CLEAR_CUP, how: 'used' })
    expect(kept(at(gun, 30 * DAY), 'bench')).toEqual([0, 30, 59, 5 * DAY])
  })

  test('takes no reading of a time that was evicted, and keeps the name of the zone', () => {
    const shop = new Shop()
    shop.do('SaveZone', { zone: 'booth', name: 'Booth 1' })
    const later = evicted(read(shop, 0, DAY, 2 * DAY, 5 * DAY), 5 * DAY)
    const late = (min: number) =>
      later.do(
        'ReadClimate',
        { zone: 'booth', airC: 30, rh: 0.5 },
        { at: minute(min), enteredAt: minute(min) },
      )
    late(DAY / 2)
    expect(kept(later.state)).toEqual([2 * DAY, 5 * DAY])
    expect(later.state.things.zone.booth?.context).toMatchObject({ spec: { name: 'Booth 1' } })
    late(4 * DAY)
    air(later, 5 * DAY + 5, 25)
    expect(kept(later.state)).toEqual([2 * DAY, 4 * DAY, 5 * DAY, 5 * DAY + 5])
  })

  test('that was voided stays so, also where that was said to be before what was evicted', () => {
    const shop = air(air(air(shopWith(), 0, 20), 3 * DAY, 25), 6 * DAY, 33)
    const [wrong] = air(shop, 6 * DAY + 20, 30).entries.slice(-1)
    const reason = 'The sensor lay in the sun'
    const late = (s: Shop): Shop => {
      // A reading that comes late has the zone folded again.
      const then = { at: minute(6 * DAY + 10), reason }
      s.do('ReadClimate', { zone: 'booth', airC: 22, rh: 0.5 }, then)
      return s
    }
    const takenBack = (s: Shop): Shop => {
      s.at(6 * DAY + 30).do('VoidEntry', { entry: wrong?.id, reason }, { at: minute(1) })
      return s
    }
    const wanted = [33, 22]
    const heard = (s: Shop) => readingsOf(s.state, 'booth').map((r) => r.airC)
    expect(heard(evicted(late(takenBack(shop.fork())), 6 * DAY + 31)).slice(-2)).toEqual(wanted)
    expect(heard(late(takenBack(evicted(shop, 6 * DAY + 30)))).slice(-2)).toEqual(wanted)
    // Evicted between the two: the void goes with what it voids, not with its own time.
    const between = evicted(takenBack(shop.fork()), 6 * DAY + 31)
    expect(heard(late(between)).slice(-2)).toEqual(wanted)
  })

  test('that is still in force stays, however old: no coat may start sooner for a restart', () => {
    // Cold air was read once, days before the coat.
    const shop = read(addPanel(shopWith([{ ...CLEAR, limits: {} }]), CLEAR_ONLY), 0)
    air(shop, 1, 10)
    coat(mix(shop.at(9_999), CLEAR_CUP, CLEAR.sheet), CLEAR_CUP, 10_000, 10_010)
    shop.at(10_011).do('EmptyCup', { cup: CLEAR_CUP, how: 'used' })
    const ready = (state: State) => deadlines(state).find((d) => d.bell === 'coatReady')?.dueAt
    expect(ready(shop.state)).toBe(minute(10_030))
    expect(ready(at(shop, 60 * DAY))).toBe(minute(10_030))
  })
})

describe('a late fact older than what is held', () => {
  /** Two coats five days ago, and one today: the air of the first is nobody's any more. */
  const painted = (): Shop => {
    const shop = mix(addPanel(shopWith([CLEAR]), CLEAR_ONLY), CLEAR_CUP, CLEAR.sheet)
    for (let min = 0; min < 6 * DAY; min += 15) air(shop, min, 20)
    return shop
  }
  const then = (min: number) => ({ at: minute(min), enteredAt: minute(min), device: 'k1', seq: 1 })

  test('is recorded, and says that its air was not judged', () => {
    const shop = evicted(
      coat(painted(), CLEAR_CUP, 6 * DAY + 1, 6 * DAY + 5, { override }),
      6 * DAY + 10,
    )
    const [started] = shop.do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP }, then(12))
    expect(started?.notJudged).toEqual(['airOutside', 'dewPoint'])
    expect(started?.outside).toBeUndefined()
  })

  test('that stands between two coats says that window and flash were not judged', () => {
    const shop = coat(
      coat(painted(), CLEAR_CUP, DAY, DAY + 5, { override }),
      CLEAR_CUP,
      6 * DAY + 1,
      6 * DAY + 5,
      {
        override,
      },
    )
    const whole = shop.fork().at(6 * DAY + 10)
    const cut = evicted(shop, 6 * DAY + 10)
    const late = (s: Shop) =>
      s.do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP }, then(DAY + 6))[0]
    // Six minutes after the first: by the whole past it came too early.
    expect(outsideOf(late(whole))).toContain('flashNotOver')
    expect(outsideOf(late(cut))).not.toContain('flashNotOver')
    expect(late(cut)?.notJudged).toContain('flashNotOver')
  })

  test('of a gun says that what was in it was not judged', () => {
    const shop = painted()
    for (let i = 0; i < 30; i += 1) {
      shop.at(10 + i).do('LoadGun', { gun: 'gun-1', cup: CLEAR_CUP })
      shop.do('CleanGun', { gun: 'gun-1' })
    }
    const cut = evicted(shop, 6 * DAY)
    const loaded = (min: number) =>
      cut.do('LoadGun', { gun: 'gun-1', cup: CLEAR_CUP }, then(min))[0]
    expect(loaded(12)?.notJudged).toEqual(['gunHolds'])
    expect(gunOf(cut, 'gun-1')).toEqual(gunOf(shop, 'gun-1'))
    expect(loaded(39.5)?.notJudged).toBeUndefined()
  })
})

describe('a gun', () => {
  /** Loaded and cleaned each ten minutes, the last time at 10 * times; then loaded again. */
  const gun = (times: number): Shop => {
    const shop = vanWith(CLEAR_ONLY)
    shop.do('SaveGun', { gun: 'gun-1', name: 'Clear gun' })
    for (let i = 1; i <= times; i += 1) {
      shop.at(10 * i - 5).do('LoadGun', { gun: 'gun-1', cup: CLEAR_CUP, override })
      shop.at(10 * i).do('CleanGun', { gun: 'gun-1' })
    }
    shop.at(10 * times + 5).do('LoadGun', { gun: 'gun-1', cup: SEALER_CUP, override })
    return shop
  }
  const types = (state: State) => state.things.gun['gun-1']?.entries.map((e) => e.type)
  const count = (state: State) => types(state)?.filter((type) => type === 'GunLoaded').length

  test('holds its loads since the last cleaning and the twenty before, after a cleaning', () => {
    expect(count(at(gun(19), 9 * DAY))).toBe(20)
    expect(count(at(gun(30), 9 * DAY))).toBe(21)
    expect(types(at(gun(30), 9 * DAY))?.slice(0, 3)).toEqual([
      'GunSaved',
      'GunCleaned',
      'GunLoaded',
    ])
  })

  test('holds what happened in the last two days, however much', () => {
    expect(count(at(gun(30), 2 * DAY))).toBe(31)
  })

  test('that is never cleaned holds its last two hundred loads', () => {
    const shop = vanWith(CLEAR_ONLY)
    for (let i = 1; i <= 300; i += 1)
      shop.at(i).do('LoadGun', { gun: 'gun-1', cup: CLEAR_CUP, override })
    expect(count(at(shop, 9 * DAY))).toBe(200)
    expect(gunOf(evicted(shop, 9 * DAY), 'gun-1')).toEqual(gunOf(shop, 'gun-1'))
  })

  test('holds the same as before, also with what comes later and what comes too late', () => {
    const whole = gun(30).at(9 * DAY)
    const cut = evicted(whole, 9 * DAY)
    expect(gunOf(cut, 'gun-1')).toEqual(gunOf(whole, 'gun-1'))
    const old = minute(10)
    const late = { at: old, enteredAt: old, device: 'k1', seq: 1 }
    cut.do('LoadGun', { gun: 'gun-1', cup: CLEAR_CUP }, late)
    expect(gunOf(cut, 'gun-1')).toEqual(gunOf(whole, 'gun-1'))
    for (const shop of [cut, whole]) shop.do('CleanGun', { gun: 'gun-1' })
    expect(gunOf(cut, 'gun-1')).toEqual(gunOf(whole, 'gun-1'))
  })
})
