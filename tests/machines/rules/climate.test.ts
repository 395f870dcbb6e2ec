import { describe, expect, test } from 'vitest'
import { SENSOR } from '../../../machines/climate/decide.ts'
import { readingsOf } from '../../../machines/climate/fold.ts'
import {
  air,
  around,
  BASE_CLEAR,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_ONLY,
  coat,
  DOOR,
  dueMin,
  minuteOf,
  refusalOf,
  said,
  shopWith,
  startCoat,
  vanWith,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

/** One clear coat finished at minute 5: flash ten minutes, window 480, both at 20 °C. */
const cleared = (more: object = {}): Shop =>
  coat(vanWith(CLEAR_ONLY, [BASE, { ...CLEAR, limits: {}, ...more }]), CLEAR_CUP, 1, 5)
const part = (shop: Shop, min: number, partC: number): Shop => {
  shop.at(min).do('ReadPart', { panel: DOOR, partC })
  return shop
}
const flash = (shop: Shop) => dueMin(shop, 'coatReady')
const shuts = (shop: Shop) => dueMin(shop, 'windowShut')

describe('the air moves the clocks', () => {
  test.each([
    [10, 25, 485],
    [20, 15, 485],
    [30, 15, 245],
  ])('at %i °C flash grows in the cold only, the window shrinks in the heat only', (airC, f, w) => {
    const shop = cleared()
    for (let min = 5; min < 480; min += 25) air(shop, min, airC)
    expect([flash(shop), shuts(shop)]).toEqual([f, w])
  })

  test('the used part of a flash stays used when the air changes', () => {
    // Half of ten minutes at 20 °C, the other half at 10 °C, where it takes twice as long.
    expect(flash(air(air(cleared(), 5, 20), 10, 10))).toBe(20)
  })

  test('a cold reading that comes late moves the gate for what is judged after it', () => {
    const shop = air(cleared(), 5, 20).at(16)
    expect(said(startCoat(CLEAR_CUP)(shop.fork()))).toBe('done')
    const at = minute(10)
    shop.do('ReadClimate', { zone: 'booth', airC: 10, rh: 0.5 }, { at, enteredAt: at })
    expect(said(startCoat(CLEAR_CUP)(shop))).toBe('flashNotOver')
  })

  test('a zone without readings leaves the figure of the sheet', () => {
    expect(flash(air(cleared(), 5, 5, 0.5, { zone: 'bench' }))).toBe(15)
  })

  test('moving a panel changes its air from then on', () => {
    const shop = air(air(cleared(), 5, 20), 5, 10, 0.5, { zone: 'bay' })
    shop.at(10).do('MovePanel', { panel: DOOR, zone: 'bay' })
    expect(flash(shop)).toBe(20)
    shop.at(14).do('MovePanel', { panel: DOOR, zone: 'booth' })
    // 5 min at full speed, 4 min at half, 3 min at full.
    expect(flash(shop)).toBe(17)
  })
})

describe('readings go stale', () => {
  const FLASH60 = { flashBetween: [{ atC: 20, minutes: 60 }] }
  test('for a permission the old reading or the sheet’s own figure counts, whichever is shorter', () => {
    // 480 min at 20 °C are 240 at 30 °C, and the more cautious stays: the warm reading still counts.
    expect(shuts(air(cleared(), 5, 30))).toBe(245)
    // A cold reading lengthens no window, stale or not.
    expect(shuts(air(cleared(), 5, 5))).toBe(485)
  })

  test('for a wait an old cold reading still counts: it is the more cautious', () => {
    expect(flash(air(cleared(FLASH60), 5, 10))).toBe(125)
  })

  test('a warm reading shortens a wait for thirty minutes only, then the own figure holds', () => {
    const points = [
      { atC: 20, minutes: 60 },
      { atC: 30, minutes: 30 },
    ]
    const warm = air(cleared({ flashBetween: points }), 2, 30)
    // Fresh until minute 32: 27 of 30 min used, the last tenth at 60 min a whole.
    expect(flash(warm)).toBe(38)
    expect(flash(air(warm, 20, 30))).toBe(35)
  })

  test('a reading that comes again ends the blindness from then on', () => {
    const points = [
      { atC: 20, minutes: 60 },
      { atC: 30, minutes: 30 },
    ]
    const shop = air(air(cleared({ flashBetween: points }), -10, 30), 26, 30)
    // 15 min at full speed until 20, 6 min at half, then full speed again: 15 + 3 + 12.
    expect(flash(shop)).toBe(38)
  })
})

describe('a part colder or warmer than the air', () => {
  test('a wait goes by the colder of the two', () => {
    expect(flash(part(air(cleared(), 5, 20), 5, 10))).toBe(25)
    expect(flash(part(air(cleared(), 5, 10), 5, 20))).toBe(25)
  })

  test('a permission goes by the warmer', () => {
    const WINDOW20 = { recoatWithin: [{ atC: 20, minutes: 20 }] }
    expect(shuts(part(air(cleared(WINDOW20), 5, 20), 5, 30))).toBe(15)
    expect(shuts(part(air(cleared(WINDOW20), 5, 30), 5, 20))).toBe(15)
  })

  test('a part reading counts for less than thirty minutes', () => {
    const FLASH60 = { flashBetween: [{ atC: 20, minutes: 60 }] }
    const shop = part(air(air(cleared(FLASH60), 5, 20), 30, 20.5), 5, 10)
    // 30 min at half speed, then the air alone: 15 + 45.
    expect(flash(shop)).toBe(80)
  })

  test('a surface that was read with the air counts as the part in that zone', () => {
    expect(flash(air(cleared(), 5, 20, 0.5, { surfaceC: 10 }))).toBe(25)
  })
})

describe('a waterborne base', () => {
  const wet = (): Shop =>
    coat(
      vanWith(BASE_CLEAR, [{ ...BASE, medium: 'waterborne', limits: {} }, CLEAR]),
      BASE_CUP,
      1,
      3,
    )
  test('flashes longer in humid air: 75 % RH leaves half the drying power of 50 %', () => {
    expect(flash(air(wet(), 3, 20, 0.5))).toBe(11)
    expect(flash(air(wet(), 3, 20, 0.75))).toBe(19)
  })

  test('never flashes faster than the sheet says', () => {
    expect(flash(air(wet(), 3, 35, 0.1))).toBe(11)
  })

  test('from 95 % RH on it does not flash: no bell, and the refusal says why', () => {
    const shop = air(wet(), 3, 20, 0.95)
    expect(flash(shop)).toBeUndefined()
    const refusal = refusalOf(startCoat(BASE_CUP)(shop.at(300)))
    expect(refusal.message).toBe('Rear door: It does not flash in this air: too humid.')
    expect([refusal.code, refusal.clearsAt]).toEqual(['flashNotOver', undefined])
    expect(flash(air(wet(), 3, 20, 0.949))).toBeGreaterThan(80)
  })

  test('flashes on as soon as the air is dry again', () => {
    const shop = air(air(wet(), 3, 20, 0.96), 60, 20, 0.5)
    expect(around(shop, 68, startCoat(BASE_CUP))).toEqual(['flashNotOver', 'done'])
  })

  test('its window does not follow the humidity', () => {
    expect(shuts(air(wet(), 3, 20, 0.75))).toBe(1443)
  })
})

describe('readings that repeat themselves', () => {
  const kept = (shop: Shop) => readingsOf(shop.state, 'booth').map((r) => minuteOf(r.at))
  const read = (shop: Shop, data: object, extra: object = { source: SENSOR }) =>
    shop.do('ReadClimate', { zone: 'booth', ...data }, extra)

  test.each([
    ['the same', 4, 20, 0.5, {}, false],
    ['0.2 °C more', 4, 20.2, 0.5, {}, false],
    ['0.3 °C more', 4, 20.3, 0.5, {}, true],
    ['1 % RH more', 4, 20, 0.51, {}, false],
    ['2 % RH more', 4, 20, 0.52, {}, true],
    ['with a surface', 4, 20, 0.5, { surfaceC: 18 }, true],
    ['0.2 °C less', 4, 19.8, 0.5, {}, false],
    ['0.201 °C more', 4, 20.201, 0.5, {}, true],
    ['1.1 % RH less', 4, 20, 0.489, {}, true],
    ['1 % RH less', 4, 20, 0.49, {}, false],
    ['the same, a second before five minutes', 5 - 1 / 60, 20, 0.5, {}, false],
    ['the same, after five minutes', 5, 20, 0.5, {}, true],
  ])('from a sensor: %s', (_, min, airC, rh, more, isKept) => {
    const shop = air(vanWith(CLEAR_ONLY), 0, 20)
    const drafts = read(shop.at(min), { airC, rh, ...more })
    expect(drafts).toHaveLength(isKept ? 1 : 0)
    expect(kept(shop)).toEqual(isKept ? [0, min] : [0])
  })

  test('are recorded where a person read them, so that the air does not count as old', () => {
    const shop = air(vanWith(CLEAR_ONLY), 0, 20)
    for (const min of [1, 29]) read(shop.at(min), { airC: 20, rh: 0.5 }, {})
    expect(kept(shop)).toEqual([0, 1, 29])
  })

  test('are recorded where a part was measured, also by a sensor', () => {
    const shop = air(vanWith(CLEAR_ONLY), 0, 20)
    for (const min of [1, 2]) read(shop.at(min), { airC: 20, rh: 0.5, surfaceC: 18 })
    expect(kept(shop)).toEqual([0, 1, 2])
  })

  test('are compared with the last one that was kept, so that a slow drift is seen', () => {
    const shop = air(vanWith(CLEAR_ONLY), 0, 20)
    for (const [i, airC] of [20.1, 20.2, 20.3, 20.4].entries())
      read(shop.at(i + 1), { airC, rh: 0.5 })
    expect(kept(shop)).toEqual([0, 3])
  })

  // In binary fractions 20.2 - 20 lies a little below 0.2, 0.51 - 0.5 a little above 0.01.
  test('at the very edge every temperature and humidity behaves alike', () => {
    const repeats = (from: object, to: object) => {
      const shop = shopWith([])
      read(shop, from)
      return read(shop.at(1), to).length === 0
    }
    for (let tenths = 0; tenths < 300; tenths += 7) {
      const [was, near, far] = [tenths / 10, (tenths + 2) / 10, (tenths + 3) / 10]
      const of = (airC: number) => ({ airC, rh: 0.5 })
      expect([was, repeats(of(was), of(near)), repeats(of(was), of(far))]).toEqual([
        was,
        true,
        false,
      ])
    }
    for (let percent = 1; percent < 98; percent += 3) {
      const of = (n: number) => ({ airC: 20, rh: n / 100 })
      const [near, far] = [percent + 1, percent + 2]
      expect([percent, repeats(of(percent), of(near)), repeats(of(percent), of(far))]).toEqual([
        percent,
        true,
        false,
      ])
    }
  })

  test('another zone is another zone', () => {
    const shop = air(vanWith(CLEAR_ONLY), 0, 20)
    expect(read(shop, { zone: 'bench', airC: 20, rh: 0.5 })).toHaveLength(1)
  })
})
