import { describe, expect, test } from 'vitest'
import { evict } from '../../machines/evict.ts'
import { follow } from '../../machines/follow.ts'
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
import { CUP } from '../support/serverCommands.ts'
import { MINUTE } from '../support/serverShop.ts'

/** What was in a gun is told of only when the gun holds that time no more. */

const minutesSince = ({ clock }: GunShop, at: number) => (clock.now() - at) / MINUTE

/** The same on a server that runs, that is updated, and on one that never evicted anything. */
async function sameWherever(shop: GunShop, id: string) {
  await shop.shops.close()
  const live = evict(shop.shops.ownWriter.state(), shop.clock.now())
  const whole = await opened(shop, 'log', false)
  expect(live.things.cup[id]?.context).toEqual(whole.things.cup[id]?.context)
  for (const by of ['ids', 'log'] as const) {
    const state = await opened(shop, by)
    expect(state.things.cup[id]?.context, by).toEqual(live.things.cup[id]?.context)
    expect(keptIn(state, id), by).toEqual(keptIn(live, id))
    expect(state.things.gun, by).toEqual(live.things.gun)
  }
  return live.things.cup[id]?.context
}

describe('a cup that is open still, though the gun that it came out of holds none of that any more', () => {
  /** TAKER is filled of LATER, which is over by now as FIRST is. */
  async function filled() {
    const shop = await loaded(1)
    await shop.fill(TAKER)
    shop.wait(1)
    return shop
  }
  async function weekGone(shop: GunShop, guns = [GUN]) {
    for (const cup of [FIRST, LATER]) await shop.empty(cup)
    shop.wait(1)
    await usedForDays(shop, guns)
  }
  test('is of a load that was told of before that, when an update reads the shop', async () => {
    const shop = await filled()
    await shop.load(FIRST, 3)
    await weekGone(shop)
    expect((await sameWherever(shop, TAKER))?.parents).toEqual([LATER, FIRST])
  })

  test('is of a load that is told of only then', async () => {
    const shop = await filled()
    const then = shop.clock.now() - 3 * MINUTE
    await weekGone(shop)
    await shop.load(FIRST, minutesSince(shop, then))
    expect((await sameWherever(shop, TAKER))?.parents).toEqual([LATER, FIRST])
  })

  test('is not of a load that is taken back only then, also where that was all', async () => {
    const shop = await filled()
    const load = await shop.load(FIRST, 3)
    await weekGone(shop)
    const mistake = { reason: 'It was the other gun' }
    await shop.press('VoidEntry', { entry: load, ...mistake })
    expect(shop.shops.ownWriter.state().things.cup[TAKER]?.context.parents).toEqual([LATER])
    const only = shop.shops.ownWriter.reader
    const [first] = (await only.byThing('gun', GUN)).filter(({ type }) => type === 'GunLoaded')
    await shop.press('VoidEntry', { entry: first?.id, ...mistake })
    expect((await sameWherever(shop, TAKER))?.parents).toEqual([LATER])
  })

  test.each([['gun-2'], ['gun-3']])(
    'is of what kiosks tell of only then, and so is what came of it in %s',
    async (next) => {
      const shop = await filled()
      await shop.press('LoadGun', { gun: next, cup: TAKER })
      shop.wait(1)
      await shop.press('PourBack', { gun: next, cup: CHILD, ml: 20, cleanCup: true })
      const then = shop.clock.now()
      shop.wait(1)
      await weekGone(shop, [GUN, 'gun-3'])
      const ago = minutesSince(shop, then)
      await Promise.all([
        shop.load(FIRST, ago + 3.5),
        shop.load(FRESH, ago + 3),
        shop.mix(FRESH, ago + 9),
        shop.press('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 }),
      ])
      expect((await sameWherever(shop, CHILD))?.clocks).toHaveLength(3)
      expect(keptIn(shop.shops.ownWriter.state(), TAKER)?.context.parents).toEqual([
        LATER,
        FIRST,
        FRESH,
      ])
    },
  )

  test('took back what only then is told to have been in the gun, and that it took it', async () => {
    const shop = await filled()
    await shop.mix(CHILD)
    const then = shop.clock.now()
    await weekGone(shop)
    const ago = minutesSince(shop, then)
    await shop.pourBack(CHILD, ago)
    await shop.load(FIRST, ago + 3)
    expect((await sameWherever(shop, CHILD))?.clocks).toHaveLength(3)
  })
})

test.each([
  [
    'is poured from one',
    (shop: GunShop) => shop.press('PourCup', { cup: CHILD, from: [{ cup: TAKER, ml: 20 }] }),
  ],
  [
    'took it out of another gun',
    async (shop: GunShop) => {
      await shop.press('LoadGun', { gun: 'gun-2', cup: TAKER })
      shop.wait(1)
      return shop.press('PourBack', { gun: 'gun-2', cup: CHILD, ml: 20, cleanCup: true })
    },
  ],
] as const)(
  'a cup that %s that came out of a gun, and is over, is of what is told of the gun only then',
  async (_, make) => {
    const shop = await loaded(1)
    await shop.fill(TAKER)
    const then = shop.clock.now() - 3 * MINUTE
    shop.wait(1)
    await make(shop)
    for (const cup of [FIRST, LATER, TAKER]) await shop.empty(cup)
    // Over night, and as often looked for what is over as a server does that.
    for (const minutes of [14 * 60, 31]) {
      shop.wait(minutes)
      await shop.press('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
    }
    expect(Object.keys(shop.shops.ownWriter.state().things.cup)).toEqual([CUP, CHILD])
    await shop.load(FIRST, minutesSince(shop, then))
    expect((await sameWherever(shop, CHILD))?.clocks).toHaveLength(2)
  },
)

test('a kiosk that holds none of what was in a gun asks the server where something is told of that after all', async () => {
  const shop = await gunShop()
  await shop.mix(FIRST)
  await shop.load(FIRST)
  shop.wait(5)
  await shop.fill(TAKER)
  const then = shop.clock.now() - MINUTE
  await shop.empty(FIRST)
  shop.wait(1)
  await usedForDays(shop)
  const { reader, state } = shop.shops.ownWriter
  await shop.mix(LATER)
  const copy = evict(state(), shop.clock.now())
  const after = async (press: Promise<string>) => {
    const entry = await reader.byId(await press)
    return entry && follow(copy, entry, shop.clock.now())
  }
  expect(await after(shop.load(LATER))).not.toBeNull()
  expect(await after(shop.load(LATER, (shop.clock.now() - then) / MINUTE))).toBeNull()
})
