import { expect, test } from 'vitest'
import { evictedAlso } from '../../machines/evict.ts'
import { foldThing } from '../../machines/fold.ts'
import { loadShop } from '../../server/load.ts'
import type { Store } from '../../server/log/log.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { reload } from '../../server/reload.ts'
import { addPanel, CUP, command, DOOR, JOB, QUARTER, vanInWork } from '../support/serverCommands.ts'
import { MINUTE, openTestShop, type TestShop } from '../support/serverShop.ts'
import { CLEAR } from '../support/sheets.ts'

/** What was said of a panel before it was added, read back from the log in another order than it came in. */

const HOUR = 60 * MINUTE
const FRESH = 'PPPP7777'

async function van(): Promise<TestShop> {
  const shop = await openTestShop({ store: memoryStore(), snapshotEvery: 1_000 })
  for (const wish of vanInWork) await shop.shops.ownWriter.handle(wish)
  return shop
}

async function taken({ shops }: TestShop, wish: object): Promise<void> {
  expect(await shops.ownWriter.handle(wish)).toMatchObject({ status: 200 })
}

/** Of what nobody has added yet only the past is told. */
const justNow = ({ clock }: TestShop) => ({ at: clock.now() - 3 * MINUTE, reason: 'typed later' })

/** As a program of the next version opens the shop: by the ids of its open work, or by its log alone. */
async function opened({ store, shops, clock }: TestShop, by: 'ids' | 'log') {
  const getMeta = async (key: string) =>
    key.startsWith('open ') && by === 'log' ? null : await store.getMeta(key)
  const later: Store = { ...store, getSnapshot: async () => null, getMeta }
  const deps = { store: later, every: 10, now: clock.now(), mayEvict: true }
  return (await loadShop(shops.own, deps)).state
}

test('a finish of a pass, typed in with a time before its panels were added, is on none of them, also when the log is read', async () => {
  const shop = await van()
  const late = { at: shop.clock.now() - 20 * HOUR, reason: 'typed later' }
  await taken(shop, command('end', 'FinishCoat', { panels: [DOOR, QUARTER], cup: CUP }, late))
  const live = shop.shops.ownWriter.state().things.panel
  await shop.shops.close()
  for (const by of ['ids', 'log'] as const) {
    const { panel } = (await opened(shop, by)).things
    for (const id of [DOOR, QUARTER]) {
      expect(panel[id]?.context.coats, by).toEqual([])
      expect(panel[id], by).toEqual(live[id])
    }
  }
})

test('a panel that is added late to a job that is over goes with it', async () => {
  const shop = await van()
  const { clock, shops } = shop
  await taken(shop, command('early', 'FinishCoat', { panels: [FRESH], cup: CUP }, justNow(shop)))
  const override = { reason: 'the lead said so' }
  await taken(shop, command('close', 'CloseJob', { job: JOB, override }))
  clock.advance(14 * HOUR)
  await taken(shop, command('air', 'ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 }))
  const late = { at: clock.now() - 20 * HOUR, reason: 'typed later' }
  await taken(shop, { ...addPanel('add', FRESH, 'Mirror'), ...late })
  await shops.close()
  expect(shops.ownWriter.state().things.job[JOB]).toBeUndefined()
  expect(shops.ownWriter.state().things.panel).toEqual({})
  for (const by of ['ids', 'log'] as const)
    expect((await opened(shop, by)).things.panel, by).toEqual({})
})

test('a cup was where the panel is that was added after its coat, also when the shop is read by its open work', async () => {
  const shop = await van()
  shop.clock.advance(40 * MINUTE)
  await taken(shop, command('start', 'StartCoat', { panels: [FRESH], cup: CUP }, justNow(shop)))
  shop.clock.advance(MINUTE)
  await taken(shop, addPanel('add', FRESH, 'Mirror'))
  const live = shop.shops.ownWriter.state().things.cup[CUP]
  expect(live?.context.zone).toBe('booth')
  await shop.shops.close()
  for (const by of ['ids', 'log'] as const)
    expect((await opened(shop, by)).things.cup[CUP]?.context, by).toEqual(live?.context)
})

test('a cup that comes back when its panel is long gone was where that panel was', async () => {
  const shop = await van()
  const { clock, shops } = shop
  clock.advance(40 * MINUTE)
  await taken(shop, command('start', 'StartCoat', { panels: [FRESH], cup: CUP }, justNow(shop)))
  await taken(shop, addPanel('add', FRESH, 'Mirror'))
  await taken(shop, command('end', 'FinishCoat', { panels: [FRESH] }))
  const override = { reason: 'the lead said so' }
  await taken(shop, command('close', 'CloseJob', { job: JOB, override }))
  const { zone, isUsed } = shops.ownWriter.state().things.cup[CUP]?.context ?? {}
  expect([zone, isUsed]).toEqual(['booth', true])
  clock.advance(60 * 24 * HOUR)
  await taken(shop, command('later', 'ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 }))
  await shops.close()
  const { reader, state } = shops.ownWriter
  expect([state().things.panel, state().things.cup]).toEqual([{}, {}])
  const back = await reload(state(), [{ kind: 'cup', id: CUP }], reader)
  const cup = back.things.cup[CUP]?.context
  expect([cup?.zone, cup?.isUsed]).toEqual([zone, isUsed])
  // Without its panel it keeps that, whatever comes later.
  const left = evictedAlso(back, [{ kind: 'panel', id: FRESH }])
  const again = foldThing(left, { kind: 'cup', id: CUP }, left.things.cup[CUP]?.entries ?? [])
  expect(again?.context).toEqual(cup)
})

test('a cup that was filled from a gun is of all that was in it, though one of these is over when another is told of late', async () => {
  const shop = await openTestShop({ store: memoryStore(), snapshotEvery: 1 })
  const { clock, shops } = shop
  const [gun, other, filled] = ['gun-1', 'CCCC7777', 'CCCC8888']
  for (const wish of vanInWork) await taken(shop, wish)
  const mixing = { cup: other, sheet: CLEAR.sheet, totalMl: 300, job: JOB }
  await taken(shop, command('mix-2', 'MixCup', mixing))
  await taken(shop, command('load', 'LoadGun', { gun, cup: CUP }))
  await taken(shop, command('empty', 'EmptyCup', { cup: CUP, how: 'used' }))
  clock.advance(10 * MINUTE)
  await taken(shop, command('fill', 'PourBack', { gun, cup: filled, cleanCup: true, ml: 60 }))
  clock.advance(13 * HOUR)
  for (const n of [1, 2])
    await taken(shop, command(`air-${n}`, 'ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 }))
  expect(Object.keys(shops.ownWriter.state().things.cup).sort()).toEqual([other, filled])
  const late = { at: clock.now() - 13 * HOUR - 5 * MINUTE, reason: 'typed later' }
  const parents = () => shops.ownWriter.state().things.cup[filled]?.context.parents
  await taken(shop, command('load-2', 'LoadGun', { gun, cup: other }, late))
  expect(parents()).toEqual([CUP, other])
  const mistaken = { entry: 'load-2.0', reason: 'It was the other gun' }
  await taken(shop, command('void', 'VoidEntry', mistaken))
  expect(parents()).toEqual([CUP])
  await taken(shop, command('load-3', 'LoadGun', { gun, cup: other }, late))
  await shops.close()
  const live = shops.ownWriter.state().things.cup
  expect(Object.keys(live).sort()).toEqual([other, filled])
  expect(parents()).toEqual([CUP, other])
  for (const by of ['ids', 'log'] as const)
    expect((await opened(shop, by)).things.cup[filled]?.context, by).toEqual(live[filled]?.context)
})
