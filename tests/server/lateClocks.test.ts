import { expect, test } from 'vitest'
import type { ThingRef } from '../../machines/catalog.ts'
import { readingsOf } from '../../machines/climate/fold.ts'
import { airMissing } from '../../machines/standing.ts'
import type { State } from '../../machines/state.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { withSpan } from '../../server/reload.ts'
import { command, JOB, vanInWork } from '../support/serverCommands.ts'
import { MINUTE, openTestShop, START_MS, type TestShop } from '../support/serverShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'

/** Clocks of days ago that an entry makes known, changes or moves without naming what they are of: their air is read with them. */

const HOUR = 60 * MINUTE
const GUN = 'gun-1'
const CUP = 'CCCC7777'
const HOOD = 'PPPP7777'
const ROOF = 'RRRR7777'
const ADDED = { job: JOB, panel: HOOD, name: 'Hood', operation: 'repair', zone: 'booth' }

/** A van in work, in a shop that evicts after each entry. */
async function evictingShop() {
  const shop = await openTestShop({ store: memoryStore(), snapshotEvery: 1 })
  let count = 0
  const press = async (type: string, data: object, minutesAgo = 0) => {
    count += 1
    const at = shop.clock.now() - minutesAgo * MINUTE
    const late = minutesAgo === 0 ? {} : { at, reason: 'typed later' }
    const answer = await shop.shops.ownWriter.handle(command(`l${count}`, type, data, late))
    expect(answer, JSON.stringify(answer.body)).toMatchObject({ status: 200 })
  }
  for (const wish of vanInWork) await shop.shops.ownWriter.handle(wish)
  return { shop, press }
}

const readInBooth = async ({ shop, press }: Awaited<ReturnType<typeof evictingShop>>) => {
  for (const minutes of [0, 10, 10, 50]) {
    shop.clock.advance(minutes * MINUTE)
    await press('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
  }
}

/** Of a thing: what is missing under its clocks, and how many readings of the booth are held. */
function airUnder({ shops, clock }: TestShop, ref: ThingRef) {
  const state = shops.ownWriter.state()
  return { missing: airMissing(state, [ref], clock.now()), read: readingsOf(state, 'booth').length }
}

test('the air under what a gun holds is read when a panel is added that its cup was beside days ago', async () => {
  const { shop, press } = await evictingShop()
  await press('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 300, zone: 'bench' })
  await readInBooth({ shop, press })
  await press('StartCoat', { panels: [HOOD], cup: CUP, gun: GUN }, 55)
  await press('EmptyCup', { cup: CUP, how: 'used' })
  shop.clock.advance(9 * 24 * HOUR)
  for (let i = 0; i < 3; i += 1) await press('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
  const gun = { kind: 'gun', id: GUN } as const
  const before = airUnder(shop, gun)
  await press('AddPanel', { ...ADDED, route: [{ stage: 'clear', sheet: CLEAR.sheet }] })
  const after = airUnder(shop, gun)
  expect(after.missing).toEqual([])
  expect(after.read).toBeGreaterThan(before.read)
})

test('the air under a coat of days ago is read when its cup becomes known', async () => {
  const { shop, press } = await evictingShop()
  // Its step names no sheet: what is on it is known by its cup alone.
  await press('AddPanel', { ...ADDED, route: [{ stage: 'base' }] })
  await readInBooth({ shop, press })
  await press('FinishCoat', { panels: [HOOD], cup: CUP })
  const panel = { kind: 'panel', id: HOOD } as const
  shop.clock.advance(3 * 24 * HOUR)
  for (let i = 0; i < 3; i += 1) await press('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
  await press('MixCup', { cup: CUP, sheet: BASE.sheet, totalMl: 300 }, 3 * 24 * 60 + 30)
  expect(airUnder(shop, panel).missing).toEqual([])
})

test('of the first readings of a zone that came in one moment all are read: the earliest holds back', async () => {
  const { shop, press } = await evictingShop()
  const read = async (days: number, airC: number) => {
    shop.clock.advance(days * 24 * HOUR)
    await press('ReadClimate', { zone: 'bench', airC, rh: 0.5 })
  }
  for (const [days, airC] of [
    [9, 21],
    [0, 14],
    [1, 19],
    [9, 20],
    [0.1, 20],
  ] as const)
    await read(days, airC)
  const { reader, state } = shop.shops.ownWriter
  const airs = (held: State) => readingsOf(held, 'bench').map(({ airC }) => airC)
  expect(airs(state())).toEqual([19, 20, 20])
  const span = { zone: 'bench', fromMs: START_MS, toMs: START_MS + HOUR }
  expect(airs(await withSpan(state(), span, reader))).toEqual([21, 14, 19, 20, 20])
})

test('of a coat beside a bake of days ago the air of before the bake is read, however many readings were taken in it', async () => {
  const { shop, press } = await evictingShop()
  const read = async (minutes: number, airC: number) => {
    shop.clock.advance(minutes * MINUTE)
    await press('ReadClimate', { zone: 'booth', airC, rh: 0.5 })
  }
  await press('AddPanel', { ...ADDED, route: [{ stage: 'clear', sheet: CLEAR.sheet }] })
  const route = [{ stage: 'clear', sheet: CLEAR.sheet }, { stage: 'cure' }]
  await press('AddPanel', { ...ADDED, panel: ROOF, name: 'Roof', route })
  await read(20, 19)
  await press('StartCure', { panels: [ROOF], mode: 'bake', setC: 60 }, 1)
  for (const airC of [35, 36, 37]) await read(30, airC)
  await press('EndCure', { panels: [ROOF] })
  await read(10, 5)
  shop.clock.advance(9 * 24 * HOUR)
  for (const airC of [18, 18, 18]) await read(10, airC)
  const held = () => readingsOf(shop.shops.ownWriter.state(), 'booth').map(({ airC }) => airC)
  expect(held()).not.toContain(19)
  await press('FinishCoat', { panels: [HOOD] }, 9 * 24 * 60 + 60)
  expect(held()).toContain(19)
  expect(airUnder(shop, { kind: 'panel', id: HOOD }).missing).toEqual([])
})
