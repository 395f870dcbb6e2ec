import { Database } from 'bun:sqlite'
import { readFileSync, writeFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { watchWhole } from '../../server/log/wholeCheck.ts'
import { lookThrough } from '../../server/lookThrough.ts'
import { verifyFolder } from '../../server/verifyLog.ts'
import { clockedServer, TestComputer } from '../support/clockedServer.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { command, JOB, vanInWork } from '../support/serverCommands.ts'
import { MAIN, post, serverProcess } from '../support/serverProcess.ts'
import { MINUTE, openTestShop } from '../support/serverShop.ts'

/** The whole log is looked through beside a shop's work: an old entry that a disk lost is known in time. */

const place = folderForTests()

/** A shop with the van in work, and how often its whole log was looked through. */
async function watched(isAfterKill: boolean) {
  const shop = await openTestShop()
  for (const wish of vanInWork) await shop.shops.ownWriter.handle(wish)
  let looks = 0
  const look = () => {
    looks += 1
    return { done: Promise.resolve(null), stop() {} }
  }
  const open = () =>
    watchWhole({
      ...{ store: shop.store, writer: shop.shops.ownWriter, clock: shop.clock },
      ...{ isAfterKill, look, report: (error) => shop.reports.push(error) },
    })
  return { ...shop, open, whole: await open(), looks: () => looks }
}

test('after a kill the log is looked through within a minute, also while the shop works', async () => {
  const { clock, looks, whole } = await watched(true)
  clock.advance(MINUTE)
  expect(looks()).toBe(1)
  await new Promise((done) => setImmediate(done))
  clock.advance(5 * MINUTE)
  expect(looks()).toBe(1)
  expect(whole.damage()).toBeNull()
})

test('otherwise it is looked through once a day, after ten minutes without a press, also across restarts', async () => {
  const { clock, looks, shops, whole, open } = await watched(false)
  for (let minutes = 0; minutes < 30; minutes += 5) {
    clock.advance(5 * MINUTE)
    const id = `air-${minutes}`
    await shops.ownWriter.handle(
      command(id, 'ReadClimate', { zone: 'booth', airC: 21 + minutes / 10, rh: 0.5 }),
    )
  }
  expect(looks()).toBe(0)
  clock.advance(10 * MINUTE)
  expect(looks()).toBe(1)
  await new Promise((done) => setImmediate(done))
  whole.stop()
  await open()
  clock.advance(23 * 60 * MINUTE)
  expect(looks()).toBe(1)
  clock.advance(60 * MINUTE)
  expect(looks()).toBe(2)
})

/** Changes a letter in the text of an entry, as a disk may. */
function damage(file: string, id: string, [from, to] = ['Delivery', 'Relivery']): void {
  using db = new Database(file)
  const found = db.query<{ sql: string }, []>(
    "SELECT sql FROM sqlite_master WHERE name = 'entry_no_update'",
  )
  const { sql = '' } = found.get() ?? {}
  db.run('DROP TRIGGER entry_no_update')
  db.run('UPDATE entry SET text = replace(text, ?, ?) WHERE id = ?', [from, to, id])
  db.run(sql)
}

/** A closed log whose third entry is damaged, long before the newest ones. */
async function damagedLog(): Promise<number> {
  const { url, stop } = await serverProcess(place.folder)
  expect((await post(`${url}/api/commands`, vanInWork)).status).toBe(200)
  for (let n = 0; n < 300; n += 50) {
    const air = Array.from({ length: 50 }, (_, i) =>
      command(`air-${n + i}`, 'ReadClimate', { zone: 'booth', airC: 20 + (i % 5), rh: 0.5 }),
    )
    expect((await post(`${url}/api/commands`, air)).status).toBe(200)
  }
  await stop('SIGTERM')
  expect(await ours(place.folder).done).toBeNull()
  damage(`${place.folder}/shop.sqlite`, 'j-open.0')
  const verdict = await verifyFolder(place.folder)
  return verdict.ok ? Number.NaN : verdict.position
}

const ours = (folder: string) => lookThrough([process.execPath, '--bun', MAIN], folder)

test('what is damaged long before the end is said on every kiosk and in the health, and work goes on', async () => {
  const position = await damagedLog()
  expect(await ours(place.folder).done).toMatchObject({ position })
  const computer = new TestComputer(Date.now())
  const server = await clockedServer(place.folder, computer)
  expect(await server.get('/healthz')).toMatchObject({ status: 200 })
  computer.pass(11 * MINUTE)
  const trouble = { code: 'damaged', params: { position } }
  await expect.poll(() => server.get('/api/state')).toMatchObject({ body: { disk: trouble } })
  expect(await server.get('/healthz')).toMatchObject({
    status: 503,
    body: { ok: false, disk: trouble, error: { code: 'unreadable' } },
  })
  const note = command('n', 'AddNote', { job: JOB, text: 'The customer called' })
  expect(await server.post('/api/commands', note)).toMatchObject({ status: 200 })
  await server.stop()
  // It is known after a restart, and looked at again at once: it may have been mended.
  const again = await clockedServer(place.folder, computer)
  expect(await again.get('/api/state')).toMatchObject({ body: { disk: trouble } })
  damage(`${place.folder}/shop.sqlite`, 'j-open.0', ['Relivery', 'Delivery'])
  computer.pass(MINUTE)
  await expect.poll(() => again.get('/api/state')).toMatchObject({ body: { disk: null } })
  expect(await again.get('/api/watching')).toMatchObject({
    body: { log: { check: { lastMs: expect.any(Number), isRunning: false } } },
  })
  await again.stop()
})

test('a file that cannot be read as a whole is said, though no entry can be named', async () => {
  await damagedLog()
  const file = `${place.folder}/shop.sqlite`
  const bytes = readFileSync(file)
  const pageSize = bytes.readUInt16BE(16)
  bytes.fill(0xff, 5 * pageSize, 6 * pageSize)
  writeFileSync(file, bytes)
  expect(await ours(place.folder).done).toMatchObject({
    position: 0,
    damage: { code: 'unreadable', params: { said: expect.stringContaining('damaged') } },
  })
})

test('a log whose newest entries are damaged is not opened', async () => {
  const { url, stop } = await serverProcess(place.folder)
  expect((await post(`${url}/api/commands`, vanInWork)).status).toBe(200)
  await stop('SIGTERM')
  damage(`${place.folder}/shop.sqlite`, 'j-open.0')
  await expect(clockedServer(place.folder, new TestComputer(Date.now()))).rejects.toThrow(
    /^Entry 4 of shop .* is not as it was written: .* restore the last backup/,
  )
})
