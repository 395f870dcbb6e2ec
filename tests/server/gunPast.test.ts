import { describe, expect, test } from 'vitest'
import { evict } from '../../machines/evict.ts'
import type { State } from '../../machines/state.ts'
import { loadShop } from '../../server/load.ts'
import type { Store } from '../../server/log/log.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { reload } from '../../server/reload.ts'
import { allKept } from '../support/allKept.ts'
import { command, JOB, vanInWork } from '../support/serverCommands.ts'
import { MINUTE, openTestShop } from '../support/serverShop.ts'
import { CLEAR } from '../support/sheets.ts'

/** What came out of a gun into a cup is read back with that gun's past, as on a server that holds everything. */

const GUN = 'gun-1'
const [FIRST, LATER, FRESH] = ['CCCC3333', 'CCCC4444', 'CCCC5555'] as const
const [TAKER, CHILD] = ['CCCC6666', 'CCCC7777'] as const

/** A shop that evicts whenever it can. Each press is sent at once, or so many minutes later than it happened. */
async function gunShop() {
  const shop = await openTestShop({ store: memoryStore(), snapshotEvery: 1 })
  const { clock, shops } = shop
  let n = 0
  const press = async (type: string, data: object, minutesAgo = 0) => {
    n += 1
    const at = clock.now() - minutesAgo * MINUTE
    const late = minutesAgo === 0 ? {} : { at, reason: 'typed later' }
    const answer = await shops.ownWriter.handle(command(`g${n}`, type, data, late))
    expect(answer, JSON.stringify(answer.body)).toMatchObject({ status: 200 })
    return `g${n}.0`
  }
  for (const wish of vanInWork) await shops.ownWriter.handle(wish)
  clock.advance(30 * MINUTE)
  return {
    ...shop,
    press,
    wait: (minutes: number) => clock.advance(minutes * MINUTE),
    mix: (cup: string, ago?: number) =>
      press('MixCup', { cup, sheet: CLEAR.sheet, totalMl: 300, job: JOB }, ago),
    load: (cup: string, ago?: number) => press('LoadGun', { gun: GUN, cup }, ago),
    fill: (cup: string, ago?: number) =>
      press('PourBack', { gun: GUN, cup, ml: 60, cleanCup: true }, ago),
    pourBack: (cup: string, ago?: number) => press('PourBack', { gun: GUN, cup, ml: 60 }, ago),
    clean: () => press('CleanGun', { gun: GUN }),
    empty: (cup: string) => press('EmptyCup', { cup, how: 'used' }),
  }
}
type GunShop = Awaited<ReturnType<typeof gunShop>>

/** As a program of the next version opens the shop: by the ids of its open work, or by its log alone. */
async function opened({ store, shops, clock }: GunShop, by: 'ids' | 'log', mayEvict = true) {
  const getMeta = async (key: string) =>
    key.startsWith('open ') && by === 'log' ? null : await store.getMeta(key)
  const later: Store = { ...store, getSnapshot: async () => null, getMeta }
  const deps = { store: later, every: 10, now: clock.now(), mayEvict }
  return (await loadShop(shops.own, deps)).state
}

/** The gun is cleaned and used for days: it holds none of its loads of before. */
async function usedForDays({ wait, mix, load, clean, empty }: GunShop): Promise<void> {
  await clean()
  await mix('DDDD3333')
  for (let i = 0; i < 22; i += 1) {
    wait(1)
    await load('DDDD3333')
    await clean()
  }
  await empty('DDDD3333')
  wait(3 * 24 * 60)
}

const keptIn = (state: State, cup: string) => allKept(state).things.cup[cup]

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
    /** FIRST and LATER are mixed, LATER is in the gun. */
    async function loaded() {
      const shop = await gunShop()
      await shop.mix(FIRST)
      shop.wait(10)
      await shop.mix(LATER)
      await shop.load(LATER)
      shop.wait(5)
      return shop
    }
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
      const shop = await loaded()
      await shop.fill(TAKER)
      await shop.load(FIRST, 3)
      await gone(shop, [FIRST, LATER, TAKER])
      expect((await readAlike(shop, TAKER))?.parents).toEqual([LATER, FIRST])
    })

    test('is not of a load that was taken back, nor of one before a cleaning that was told late', async () => {
      const shop = await loaded()
      const load = await shop.load(FIRST)
      shop.wait(1)
      await shop.fill(TAKER)
      await shop.fill(CHILD)
      await shop.press('VoidEntry', { entry: load, reason: 'It was the other gun' })
      await gone(shop, [FIRST, LATER, TAKER, CHILD])
      expect((await readAlike(shop, TAKER))?.parents).toEqual([LATER])
      const other = await loaded()
      await other.load(FIRST)
      other.wait(5)
      await other.fill(TAKER)
      await other.press('CleanGun', { gun: GUN }, 4)
      await other.load(FIRST, 3)
      await gone(other, [FIRST, LATER, TAKER])
      expect((await readAlike(other, TAKER))?.parents).toEqual([FIRST])
    })

    test('ends with a load that was told of after it took that back', async () => {
      const shop = await loaded()
      await shop.mix(TAKER)
      await shop.pourBack(TAKER)
      await shop.load(FIRST, 3)
      await gone(shop, [FIRST, LATER, TAKER])
      expect((await readAlike(shop, TAKER))?.clocks).toHaveLength(3)
    })

    test('ends with a mix that was told of after it was loaded and poured back', async () => {
      const shop = await loaded()
      await shop.load(FRESH, 1)
      await shop.mix(TAKER)
      shop.wait(30)
      await shop.pourBack(TAKER, 29)
      await shop.mix(FRESH, 45)
      await gone(shop, [FIRST, LATER, FRESH, TAKER])
      expect((await readAlike(shop, TAKER))?.clocks).toHaveLength(3)
    })

    test('is of what came out of a gun into the cup that it was poured from', async () => {
      const shop = await loaded()
      await shop.fill(TAKER)
      shop.wait(1)
      await shop.press('PourCup', { cup: CHILD, from: [{ cup: TAKER, ml: 20 }] })
      await shop.load(FIRST, 3)
      await gone(shop, [FIRST, LATER, TAKER, CHILD])
      expect((await readAlike(shop, CHILD))?.clocks).toHaveLength(2)
    })

    test('is of what came out of a gun into the cup that was in the next gun', async () => {
      const shop = await loaded()
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

test('a cup that is open still is of all that was in a gun, though the gun holds none of that, when an update reads the shop', async () => {
  const shop = await gunShop()
  await shop.mix(FIRST)
  await shop.mix(LATER)
  await shop.load(LATER)
  shop.wait(5)
  await shop.fill(TAKER)
  await shop.load(FIRST, 3)
  for (const cup of [FIRST, LATER]) await shop.empty(cup)
  shop.wait(1)
  await usedForDays(shop)
  await shop.shops.close()
  const live = evict(shop.shops.ownWriter.state(), shop.clock.now())
  expect(live.things.cup[TAKER]?.context.parents).toEqual([LATER, FIRST])
  for (const by of ['ids', 'log'] as const) {
    const { cup, gun } = (await opened(shop, by)).things
    expect(cup[TAKER]?.context, by).toEqual(live.things.cup[TAKER]?.context)
    expect(cup[TAKER], by).toEqual(live.things.cup[TAKER])
    expect(gun, by).toEqual(live.things.gun)
  }
})
