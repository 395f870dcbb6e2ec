import { expect, test } from 'vitest'
import { devicesOf } from '../../machines/devices/fold.ts'
import { command } from '../support/serverCommands.ts'
import { MINUTE, openTestShop, START_MS, TestClock } from '../support/serverShop.ts'

/** What a server has evicted about its kiosks is read back where it matters. */

const HOUR = 60 * MINUTE

/** A server that was restarted after some hours. */
async function restartedAfter(hours: number) {
  const clock = new TestClock()
  const first = await openTestShop({ clock })
  const { handle } = first.shops.ownWriter
  const told = async (id: string, type: string, data: object, extra: object = {}) =>
    expect((await handle(command(id, type, data, extra))).status).toBe(200)
  await told('level', 'CommissionLevel', { place: 'Bench', ambientDb: 60, signalDb: 80 })
  await told('heard', 'TestSound', { pattern: 'A', heard: true })
  await told('slept', 'ReportSleep', { why: 'lost' }, { device: 'kiosk-1', seq: 1 })
  clock.advance(hours * HOUR)
  await told('air', 'ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
  await first.shops.close()
  const again = await openTestShop({ clock, store: first.store })
  const state = () => again.shops.ownWriter.state()
  return { clock, state, handle: again.shops.ownWriter.handle, shops: again.shops }
}

/** It holds the last 48 hours: what was of the first day is evicted. */
async function twoDaysLater() {
  const shop = await restartedAfter(49)
  expect(devicesOf(shop.state())).toMatchObject({
    levels: [{ place: 'Bench' }],
    tests: [],
    slept: [],
  })
  return shop
}

test('a sound test of the day before yesterday can be voided, once', async () => {
  const { handle, shops } = await twoDaysLater()
  const undo = (id: string) =>
    handle(command(id, 'VoidEntry', { entry: 'heard.0', reason: 'MISTAP' }))
  expect(await undo('undo-1')).toMatchObject({
    status: 200,
    body: { entries: [{ type: 'EntryVoided', data: { entry: 'heard.0' } }] },
  })
  expect(await undo('undo-2')).toMatchObject({
    status: 409,
    body: { refusal: { code: 'entryInUse' } },
  })
  await shops.close()
})

test('a kiosk that was offline then reports nothing twice', async () => {
  const { handle, clock, shops } = await restartedAfter(47)
  const late = (id: string, seq: number, min: number) => {
    const at = START_MS + min * MINUTE
    const extra = { device: 'kiosk-1', seq, at, enteredAt: at }
    return handle(command(id, 'ReportSleep', { why: 'lost' }, extra))
  }
  expect(await late('late-1', 2, 9)).toMatchObject({ status: 200, body: { entries: [] } })
  const kept = { status: 200, body: { entries: [{ type: 'ScreenSlept' }] } }
  expect(await late('late-2', 3, 10)).toMatchObject(kept)
  clock.advance(MINUTE)
  expect(await late('late-3', 4, 12)).toMatchObject({ status: 200, body: { entries: [] } })
  await shops.close()
})

test('a level that is typed in days late is known at once', async () => {
  const { handle, state, shops } = await twoDaysLater()
  const level = { place: 'Booth', ambientDb: 70, signalDb: 86 }
  const at = START_MS + HOUR
  const answer = await handle(
    command('typed', 'CommissionLevel', level, { at, enteredAt: at, reason: 'From the sheet' }),
  )
  expect(answer).toMatchObject({ status: 200 })
  expect(devicesOf(state()).levels.map(({ place }) => place)).toEqual(['Bench', 'Booth'])
  await shops.close()
})
