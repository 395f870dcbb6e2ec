import { describe, expect, test } from 'vitest'
import { rangeIn } from '../../../machines/climate/range.ts'
import { rangeAt } from '../../../machines/clock/line.ts'
import { holdsUntil } from '../../../machines/shop/hours.ts'
import {
  air,
  BASE_CLEAR,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_ONLY,
  coat,
  dueMin,
  evicted,
  shopWith,
  vanWith,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

/** Clocks of a zone whose air nobody reads: by what a person says of the day, else by the sheet. */

const points = (...all: readonly [number, number][]) =>
  all.map(([atC, minutes]) => ({ atC, minutes }))
const FLASH = points([20, 60], [10, 120], [30, 30])
/** One clear coat finished at minute 5; it flashes 60 min at 20 °C. */
const cleared = (more: object = { flashBetween: FLASH }, before = (shop: Shop) => shop): Shop =>
  coat(before(vanWith(CLEAR_ONLY, [BASE, { ...CLEAR, limits: {}, ...more }])), CLEAR_CUP, 1, 5)
const range = (shop: Shop, min: number, minC: number, maxC: number, more: object = {}): Shop => {
  shop.at(min).do('SetDayRange', { zone: 'booth', minC, maxC, ...more })
  return shop
}
const flash = (shop: Shop) => dueMin(shop, 'coatReady')
const shuts = (shop: Shop) => dueMin(shop, 'windowShut')
const WINDOW = { recoatWithin: points([20, 100], [30, 50], [10, 200]) }

describe('a zone that nobody read, of which nobody said anything', () => {
  test('the more cautious of the first point and of those within ten degrees of 20 °C counts', () => {
    expect(flash(cleared())).toBe(5 + 120)
    expect(flash(cleared({ flashBetween: points([20, 60], [9.5, 120], [30, 30]) }))).toBe(5 + 60)
    expect(shuts(cleared(WINDOW))).toBe(5 + 50)
  })

  test('after a reading: the first point, those within ten degrees of it, and what it says itself', () => {
    const stale = (airC: number) => cleared({ flashBetween: FLASH }, (shop) => air(shop, -60, airC))
    expect(flash(stale(20))).toBe(5 + 120)
    // 30 min at 30 °C, the first point says 60, and 10 °C is too far away.
    expect(flash(stale(30))).toBe(5 + 60)
    // Colder than all of the sheet's points: the reading itself is the most cautious.
    expect(flash(stale(0)) ?? 0).toBeGreaterThan(5 + 200)
  })

  test('a reading under thirty minutes old counts alone', () => {
    const shop = air(air(cleared(), 4, 30), 20, 30)
    expect(flash(shop)).toBe(5 + 30)
  })
})

describe("a day's range", () => {
  test('its cautious end counts: the colder for a wait, the warmer for a permission', () => {
    expect(flash(range(cleared(), 5, 20, 30))).toBe(5 + 60)
    expect(flash(range(cleared(), 5, 10, 30))).toBe(5 + 120)
    expect(shuts(range(cleared(WINDOW), 5, 10, 20))).toBe(5 + 100)
    expect(shuts(range(cleared(WINDOW), 5, 10, 30))).toBe(5 + 50)
  })

  test('joined with the last reading, where that lies outside it', () => {
    const cold = cleared({ flashBetween: FLASH }, (shop) => air(shop, -60, 10))
    expect(flash(range(cold, 5, 20, 30))).toBe(5 + 120)
    const within = cleared({ flashBetween: FLASH }, (shop) => air(shop, -60, 25))
    expect(flash(range(within, 5, 20, 30))).toBe(5 + 60)
  })

  test('a reading under thirty minutes old goes before it', () => {
    const shop = air(air(range(cleared(), 0, 10, 12), 4, 30), 20, 30)
    expect(flash(shop)).toBe(5 + 30)
  })

  test('it counts from when it was said', () => {
    // Half of 120 min are over when somebody says that it is no colder than 20 °C.
    expect(flash(range(cleared(), 65, 20, 30))).toBe(65 + 30)
  })

  test('the later word counts', () => {
    expect(flash(range(range(cleared(), 5, 10, 30), 5, 20, 30))).toBe(5 + 60)
  })

  test('the dampest of it counts for a waterborne flash', () => {
    const wet = (more: object) =>
      flash(
        coat(
          range(
            vanWith(BASE_CLEAR, [{ ...BASE, medium: 'waterborne', limits: {} }, CLEAR]),
            0,
            20,
            20,
            more,
          ),
          BASE_CUP,
          1,
          3,
        ),
      )
    // 75 % RH leaves half the drying power of 50 %; from 95 % on nothing flashes while the range lasts.
    expect(wet({})).toBe(3 + 8)
    expect(wet({ rhMin: 0.4, rhMax: 0.75 })).toBe(3 + 16)
    expect(wet({ rhMax: 0.95 }) ?? 0).toBeGreaterThan(60)
  })

  test('it counts for the pot life of a cup in that zone as well', () => {
    const pot = (shop: Shop) => dueMin(shop, 'potOver')
    const mixed = vanWith(CLEAR_ONLY, [CLEAR])
    mixed.do('SetDayRange', { zone: 'bench', minC: 20, maxC: 30 })
    expect([pot(vanWith(CLEAR_ONLY, [CLEAR])), pot(mixed)]).toEqual([60, 30])
  })

  test('it is another zone’s affair', () => {
    const shop = cleared()
    shop.at(5).do('SetDayRange', { zone: 'bay', minC: 20, maxC: 30 })
    expect(flash(shop)).toBe(5 + 120)
  })

  test('one that was voided never counted', () => {
    const shop = cleared()
    const [said] = shop.at(5).do('SetDayRange', { zone: 'booth', minC: 20, maxC: 30 })
    shop.at(6).do('VoidEntry', { entry: said?.id, reason: 'the other door was open' })
    expect(flash(shop)).toBe(5 + 120)
  })

  test('what lies the wrong way round is said to be so', () => {
    const shop = shopWith()
    expect(() => shop.parse('SetDayRange', { zone: 'booth', minC: 20, maxC: 19.9 })).toThrow(
      "data.maxC: 19.9 won't work. Use no less than the least of it.",
    )
    expect(() =>
      shop.parse('SetDayRange', { zone: 'booth', minC: 20, maxC: 20, rhMin: 0.5, rhMax: 0.4 }),
    ).toThrow('data.rhMax: 0.4')
  })

  test('is still known after a week, also where no reading ever came', () => {
    const shop = range(cleared({ flashBetween: points([20, 60]) }), 0, 15, 25)
    const later = evicted(shop, 8 * 1_440)
    expect(rangeIn(later.state, 'booth', minute(1))?.minC).toBe(15)
  })
})

describe('until the close', () => {
  const HOURS = { hours: { opensAt: '07:30', closesAt: '17:00' }, timeZone: 'Europe/Madrid' }
  // Madrid is an hour ahead of UTC in January.
  const madrid = (day: number, hour: number, min = 0) => Date.UTC(2026, 0, day, hour - 1, min)

  test('until it closes; after that until midnight', () => {
    expect(holdsUntil(HOURS, madrid(5, 9), false)).toBe(madrid(5, 17))
    expect(holdsUntil(HOURS, madrid(5, 6), false)).toBe(madrid(5, 17))
    expect(holdsUntil(HOURS, madrid(5, 19), false)).toBe(madrid(6, 0))
  })

  test('over the night until it opens again', () => {
    expect(holdsUntil(HOURS, madrid(5, 16), true)).toBe(madrid(6, 7, 30))
  })

  test('a shop without hours: until midnight, or for a day and a night', () => {
    const { timeZone } = HOURS
    expect(holdsUntil({ timeZone }, madrid(5, 9), false)).toBe(madrid(6, 0))
    expect(holdsUntil({ timeZone }, madrid(5, 9), true)).toBe(madrid(6, 9))
  })

  test('hours over midnight end in the night', () => {
    const late = { hours: { opensAt: '18:00', closesAt: '02:00' }, timeZone: 'Europe/Madrid' }
    expect(holdsUntil(late, madrid(5, 20), false)).toBe(madrid(6, 2))
  })

  test('the range is over at that very moment', () => {
    const shop = shopWith()
    shop.do('ChangeSettings', HOURS)
    range(shop, 0, 15, 25)
    const until = madrid(5, 17)
    const known = (at: number) => rangeIn(shop.state, 'booth', at) !== undefined
    expect([known(until - 1), known(until)]).toEqual([true, false])
    expect(rangeAt({ readings: [] }, until)).toBeUndefined()
  })
})
