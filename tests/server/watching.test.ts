import { expect, test } from 'vitest'
import { clockedServer, TestComputer } from '../support/clockedServer.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { CUP, command, vanInWork } from '../support/serverCommands.ts'
import { MINUTE, openTestShop } from '../support/serverShop.ts'

/** GET /api/watching: how what keeps the shop's record stands. */

const place = folderForTests()

const DAY = 24 * 60 * MINUTE
const print = (id: string) => command(id, 'PrintLabel', { cup: CUP })

test('on the first day: one entry, never checked, space that is left, and nothing else yet', async () => {
  const server = await clockedServer(place.folder, new TestComputer())
  expect(await server.get('/api/watching')).toEqual({
    status: 200,
    body: {
      nowMs: expect.any(Number),
      log: { entries: 1, loss: null, check: { lastMs: null, isRunning: false } },
      disk: { trouble: null, freeMb: expect.any(Number) },
      backup: null,
      clock: { doubt: null, wallMs: expect.any(Number), era: expect.any(Number) },
      kiosks: [],
      label: null,
    },
  })
  await server.stop()
})

test('a whole look is shown with its time, and survives a restart', async () => {
  const computer = new TestComputer()
  const server = await clockedServer(place.folder, computer)
  computer.pass(11 * MINUTE)
  const check = async (from: typeof server) => (await from.get('/api/watching')).body.log.check
  await expect.poll(() => check(server)).toMatchObject({ lastMs: expect.any(Number) })
  const { lastMs } = await check(server)
  await server.stop()
  const again = await clockedServer(place.folder, computer)
  expect(await check(again)).toEqual({ lastMs, isRunning: false })
  await again.stop()
})

test('the last label is found after a minute, a month and ten years', async () => {
  const { shops, clock, get } = await openTestShop()
  for (const wish of vanInWork) await shops.ownWriter.handle(wish)
  const label = async () => ((await get('/api/watching')).body as { label: object | null }).label
  expect(await label()).toBeNull()
  expect(await shops.ownWriter.handle(print('p-1'))).toMatchObject({ status: 200 })
  clock.advance(MINUTE)
  expect(await shops.ownWriter.handle(print('p-2'))).toMatchObject({ status: 200 })
  const last = { atMs: clock.now(), cup: CUP }
  for (const days of [0, 1, 30, 3_650]) {
    clock.advance(days * DAY)
    expect({ days, label: await label() }).toEqual({ days, label: last })
  }
})

test('a log that cannot be read is answered as such', async () => {
  const { store, get } = await openTestShop()
  await store.close()
  expect(await get('/api/watching')).toMatchObject({
    status: 503,
    body: { error: { code: 'unreadable' } },
  })
})
