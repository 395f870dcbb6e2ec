import { describe, expect, test } from 'vitest'
import { evict } from '../../machines/evict.ts'
import { readerOf } from '../../server/reading.ts'
import { reload } from '../../server/reload.ts'
import { countingStore } from '../support/countingStore.ts'
import {
  CHILD,
  FIRST,
  FRESH,
  GUN,
  type GunShop,
  gunShop,
  keptIn,
  LATER,
  loaded,
  opened,
  TAKER,
  usedForDays,
} from '../support/gunShop.ts'

/** What came out of a gun into a cup is read back with that gun's past, as on a server that holds everything. */

/** A cup as it is read back: the same as on a server that never evicted anything. Nothing else is left of what was read for it. */
async function readAlike(shop: GunShop, cup: string) {
  const { reader, state } = shop.shops.ownWriter
  const open = evict(state(), shop.clock.now())
  expect(open.things.cup[cup]).toBeUndefined()
  const back = await reload(open, [{ kind: 'cup', id: cup }], reader)
  const whole = await opened(shop, 'log', false)
  expect(back.things.cup[cup]?.context).toEqual(whole.things.cup[cup]?.context)
  expect(keptIn(back, cup)).toEqual(keptIn(whole, cup))
  expect(back.things.gun).toEqual(open.things.gun)
  expect(Object.keys(back.things.cup)).toEqual([...Object.keys(open.things.cup), cup])
  return whole.things.cup[cup]?.context
}

/** What happens after it, and whether the gun still holds what was in it then. */
const afterwards: readonly (readonly [string, boolean, (shop: GunShop) => Promise<void>])[] = [
  ['still holds', true, async ({ wait }) => wait(9 * 24 * 60)],
  ['holds no more', false, usedForDays],
]

describe.each(afterwards)(
  'a cup that is read back, of a gun that %s what was in it',
  (_, isHeld, then) => {
    async function gone(shop: GunShop, cups: readonly string[]) {
      for (const cup of cups) await shop.empty(cup)
      shop.wait(1)
      const loads = () => shop.shops.ownWriter.state().things.gun[GUN]?.entries.map((e) => e.cup)
      await then(shop)
      await shop.press('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
      await shop.press('ReadClimate', { zone: 'booth', airC: 21, rh: 0.5 })
      expect(loads()?.includes(LATER)).toBe(isHeld)
    }

    test('is of a load that was told of after it was filled', async () => {
      const shop = await loaded(10)
      await shop.fill(TAKER)
      await shop.load(FIRST, 3)
      await gone(shop, [FIRST, LATER, TAKER])
      expect((await readAlike(shop, TAKER))?.parents).toEqual([LATER, FIRST])
    })

    test('is not of a load that was taken back, nor of one before a cleaning that was told late', async () => {
      const shop = await loaded(10)
      const load = await shop.load(FIRST)
      shop.wait(1)
      await shop.fill(TAKER)
      await shop.fill(CHILD)
      await shop.press('VoidEntry', { entry: load, reason: 'It was the other gun' })
      await gone(shop, [FIRST, LATER, TAKER, CHILD])
      expect((await readAlike(shop, TAKER))?.parents).toEqual([LATER])
      const other = await loaded(10)
      await other.load(FIRST)
      other.wait(5)
      await other.fill(TAKER)
      await other.press('CleanGun', { gun: GUN }, 4)
      await other.load(FIRST, 3)
      await gone(other, [FIRST, LATER, TAKER])
      expect((await readAlike(other, TAKER))?.parents).toEqual([FIRST])
    })

    test('ends with a load that was told of after it took that back', async () => {
      const shop = await loaded(10)
      await shop.mix(TAKER)
      await shop.pourBack(TAKER)
      await shop.load(FIRST, 3)
      await gone(shop, [FIRST, LATER, TAKER])
      expect((await readAlike(shop, TAKER))?.clocks).toHaveLength(3)
    })

    test('ends with a mix that was told of after it was loaded and poured back', async () => {
      const shop = await loaded(10)
      await shop.load(FRESH, 1)
      await shop.mix(TAKER)
      shop.wait(30)
      await shop.pourBack(TAKER, 29)
      await shop.mix(FRESH, 45)
      await gone(shop, [FIRST, LATER, FRESH, TAKER])
      expect((await readAlike(shop, TAKER))?.clocks).toHaveLength(3)
    })

    test('is of what came out of a gun into the cup that it was poured from', async () => {
      const shop = await loaded(10)
      await shop.fill(TAKER)
      shop.wait(1)
      await shop.press('PourCup', { cup: CHILD, from: [{ cup: TAKER, ml: 20 }] })
      await shop.load(FIRST, 3)
      await gone(shop, [FIRST, LATER, TAKER, CHILD])
      expect((await readAlike(shop, CHILD))?.clocks).toHaveLength(2)
    })

    test('is of what came out of a gun into the cup that was in the next gun', async () => {
      const shop = await loaded(10)
      await shop.fill(TAKER)
      shop.wait(1)
      await shop.press('LoadGun', { gun: 'gun-2', cup: TAKER })
      shop.wait(1)
      await shop.press('PourBack', { gun: 'gun-2', cup: CHILD, ml: 20, cleanCup: true })
      await shop.load(FIRST, 4)
      await gone(shop, [FIRST, LATER, TAKER, CHILD])
      expect((await readAlike(shop, CHILD))?.clocks).toHaveLength(2)
    })
  },
)

test.each([
  ['that is cleaned', 5, [3, 30]],
  ['that nobody cleans', 250, [2, 6]],
] as const)(
  'no more rows are read for a cup the longer a gun %s was used',
  async (_, loads, weeks) => {
    const rows: number[] = []
    for (const most of weeks) {
      const shop = await gunShop()
      for (let week = 0; week < most; week += 1) {
        const cup = `EEEE${'CDFGHJ'[Math.floor(week / 6)]}${'CDFGHJ'[week % 6]}33`
        await shop.mix(cup)
        shop.wait(30)
        for (let n = 0; n < loads; n += 1) {
          shop.wait(10)
          await shop.load(cup, 20)
          if (loads === 5) await shop.press('CleanGun', { gun: GUN })
        }
        shop.wait(6 * 24 * 60)
      }
      await shop.mix(LATER)
      shop.wait(30)
      await shop.load(LATER, 20)
      await shop.fill(TAKER, 19)
      for (const cup of [LATER, TAKER]) await shop.empty(cup)
      shop.wait(1)
      await usedForDays(shop)
      const { shops, clock, store } = shop
      const counting = countingStore(store)
      const open = evict(shops.ownWriter.state(), clock.now())
      await reload(open, [{ kind: 'cup', id: TAKER }], readerOf(counting.store, shops.own))
      expect(counting.asked).toContain(`gun ${GUN}`)
      rows.push(counting.rows())
    }
    expect(rows[1]).toBe(rows[0])
    expect(rows[0]).toBeLessThan(loads === 5 ? 20 : 1_200)
  },
)
