import { expect, test, vi } from 'vitest'
import type { FoundLaterAnswer } from '../../machines/contract/foundLater.ts'
import { jobSearchRoutes } from '../../server/routes/jobs.ts'
import { command } from '../support/serverCommands.ts'
import { MINUTE, openTestShop, type TestShop } from '../support/serverShop.ts'
import { CLEAR } from '../support/sheets.ts'
import { must } from '../support/sprayedVan.ts'

/** What a kiosk kept for days shows of a job that is closed: on the server, when nothing of it is held any more. */

const [JOB, DOOR, CUP] = ['VANJAB22', 'DRDR2222', 'CRCR2222']
const DAY = 24 * 60 * MINUTE

/** One coat of clear, passed and closed; `at` is when the coat was finished. */
async function closedVan(): Promise<{ shop: TestShop; at: number }> {
  const shop = await openTestShop({ more: [jobSearchRoutes(null)], snapshotEvery: 1 })
  const { clock } = shop
  await must(shop, 'SaveSheet', { sheet: CLEAR })
  await must(shop, 'OpenJob', { job: JOB, title: 'Delivery van' })
  await must(shop, 'AddPanel', {
    ...{ job: JOB, panel: DOOR, name: 'Door', operation: 'repair', areaM2: 1, zone: 'booth' },
    route: [{ stage: 'clear', sheet: CLEAR.sheet, coats: { least: 1, planned: 1, most: 3 } }],
  })
  await must(shop, 'ReadClimate', { zone: 'booth', airC: 20, rh: 0.5, surfaceC: 20 })
  await must(shop, 'MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 600, zone: 'booth' })
  clock.advance(MINUTE)
  await must(shop, 'StartCoat', { panels: [DOOR], cup: CUP })
  clock.advance(2 * MINUTE)
  await must(shop, 'FinishCoat', { panels: [DOOR] })
  const at = clock.now()
  clock.advance(60 * MINUTE)
  await must(shop, 'PassPanel', { panel: DOOR })
  await must(shop, 'EmptyCup', { cup: CUP, how: 'used' })
  await must(shop, 'ClearZone', { zone: 'booth', how: 'gauge' })
  await must(shop, 'CloseJob', { job: JOB })
  return { shop, at }
}

async function answered(shop: TestShop): Promise<FoundLaterAnswer> {
  let body: FoundLaterAnswer | undefined
  await vi.waitFor(async () => {
    const answer = await shop.get('/api/jobs/foundLater')
    expect(answer.status).toBe(200)
    body = answer.body as FoundLaterAnswer
    expect(body.behind + body.toLook).toBe(0)
  })
  return body as FoundLaterAnswer
}

/** A second clear after 1 of its 10 min, as another kiosk kept it. @returns the id of its start */
async function secondClear(shop: TestShop, at: number): Promise<string> {
  const keep = async (id: string, type: string, min: number, data: object) => {
    const then = { at: at + min * MINUTE, enteredAt: at + min * MINUTE, device: 'phone' }
    const { status } = await shop.shops.ownWriter.handle(command(id, type, data, then))
    expect([id, status]).toEqual([id, 200])
  }
  await keep('late-1', 'StartCoat', 1, { panels: [DOOR], cup: CUP })
  await keep('late-2', 'FinishCoat', 3, { panels: [DOOR] })
  return 'late-1.0'
}

test('a coat told three days late of a closed job is found, decided about and gone', async () => {
  const { shop, at } = await closedVan()
  expect((await answered(shop)).jobs).toEqual([])
  shop.clock.advance(3 * DAY)
  const start = await secondClear(shop, at)
  const found = { job: JOB, title: 'Delivery van', found: 1, isClosed: true }
  expect((await answered(shop)).jobs).toEqual([found])
  // It is decided about a month later, when neither the job nor the panel is held any more.
  shop.clock.advance(30 * DAY)
  await must(shop, 'OpenJob', { job: 'JJJJ3333', title: 'Another' })
  const { ownWriter } = shop.shops
  await vi.waitFor(() => expect(ownWriter.state().things.panel[DOOR]).toBeUndefined())
  expect((await answered(shop)).jobs).toEqual([found])
  const settle = { job: JOB, entry: start, code: 'flashNotOver', disposition: 'accept' }
  await must(shop, 'SettleDeviation', { ...settle, reason: 'BREAK' })
  expect((await answered(shop)).jobs).toEqual([])
})

test('a job is told anew only where something came since', async () => {
  const { shop, at } = await closedVan()
  shop.clock.advance(DAY)
  await secondClear(shop, at)
  const rows = vi.spyOn(shop.shops.ownWriter.reader, 'byThing')
  await answered(shop)
  const first = rows.mock.calls.length
  expect(first).toBeGreaterThan(0)
  await answered(shop)
  expect(rows.mock.calls.length).toBe(first)
})

test('a reading that came late makes what was sprayed since looked at again', async () => {
  const { shop, at } = await closedVan()
  await answered(shop)
  const rows = vi.spyOn(shop.shops.ownWriter.reader, 'byThing')
  const then = { at: at - 30 * MINUTE, enteredAt: at - 30 * MINUTE, device: 'phone' }
  const air = { zone: 'booth', airC: 10, rh: 0.5 }
  await shop.shops.ownWriter.handle(command('late-air', 'ReadClimate', air, then))
  await answered(shop)
  expect(rows.mock.calls.map(([, id]) => id)).toContain(JOB)
})
