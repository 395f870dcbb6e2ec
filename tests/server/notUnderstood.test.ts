import { Database } from 'bun:sqlite'
import { expect, test } from 'vitest'
import { streamsOf } from '../../machines/catalog.ts'
import { emptyState } from '../../machines/state.ts'
import { logFileIn } from '../../server/data.ts'
import { emptyHead, seal } from '../../server/log/chain.ts'
import { inPages, LogError } from '../../server/log/log.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { readerOf } from '../../server/reading.ts'
import { reload } from '../../server/reload.ts'
import { labelRoutes } from '../../server/routes/labels.ts'
import { clockedServer, TestComputer } from '../support/clockedServer.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { CUP, vanInWork } from '../support/serverCommands.ts'
import { openTestShop } from '../support/serverShop.ts'

/** Logs whose parts contradict each other: said with a sentence, and nothing is begun beside them. */

const place = folderForTests()

test('a log that says it is of another shop than its entries is not opened as a new one', async () => {
  const server = await clockedServer(place.folder, new TestComputer())
  await server.post('/api/commands', vanInWork)
  const { head } = server.state()
  await server.stop()
  {
    using db = new Database(logFileIn(place.folder))
    db.run("UPDATE meta SET value = 'ZZZZ9999' WHERE key = 'shop'")
  }
  await expect(clockedServer(place.folder, new TestComputer())).rejects.toThrow(
    /holds the entries of shop .{8}, but says that it is of ZZZZ9999\. .*restore the last backup/,
  )
  using db = new Database(logFileIn(place.folder))
  expect(db.query('SELECT count(*) AS n FROM entry').get()).toEqual({ n: head })
})

/** The van's log with one entry's content changed, sealed as another program might have. */
async function storeWith(type: string, data: (before: object) => unknown) {
  const { store, shops } = await openTestShop()
  for (const wish of vanInWork) await shops.ownWriter.handle(wish)
  const other = memoryStore()
  await other.putMeta('shop', shops.own)
  let { hash } = emptyHead(shops.own)
  for await (const { hash: _, ...entry } of inPages((page) => store.read(shops.own, page))) {
    const isIt = entry.type === type
    const sealed = seal(shops.own, hash, Object.assign(entry, isIt && { data: data(entry.data) }))
    await other.append(shops.own, sealed.position - 1, [sealed])
    hash = sealed.hash
  }
  return other
}

test('a sealed entry that no rule can read keeps the server from starting, with its place', async () => {
  const store = await storeWith('SheetSaved', () => null)
  await expect(openTestShop({ store })).rejects.toThrow(
    /^The rules can make nothing of entry 2 of shop .{8}\. Run verify/,
  )
})

test('one that can be read and makes no sense is answered as such, and is not blamed on the page', async () => {
  const store = await storeWith('SheetSaved', () => ({ sheet: 5 }))
  const { get } = await openTestShop({ store, more: [labelRoutes] })
  expect(await get(`/api/scan/${CUP}`)).toMatchObject({
    status: 503,
    body: { error: { code: 'unreadable', message: expect.stringContaining('Run verify') } },
  })
})

test('whatever one field of a cup holds, the shop is opened or refused with a sentence', async () => {
  const { shops } = await openTestShop()
  for (const wish of vanInWork) await shops.ownWriter.handle(wish)
  const page = await shops.ownWriter.reader.page({ after: 0, limit: 100 })
  const mixed = page.find(({ type }) => type === 'CupMixed')
  const said = new Set<string>()
  for (const key of Object.keys(mixed?.data ?? {}))
    for (const value of [-1, null, {}, 'x']) {
      const store = await storeWith('CupMixed', (before) => ({ ...before, [key]: value }))
      const opened = await openTestShop({ store }).then(
        () => 'opened',
        (error) => (error instanceof LogError ? error.code : `${key}: ${error}`),
      )
      said.add(opened)
    }
  expect([...said].sort()).toEqual(['notUnderstood', 'opened'])
})

test('whatever stands in place of an entry’s content, also of one that is read back, it is said with a sentence', async () => {
  const { shops } = await openTestShop()
  for (const wish of vanInWork) await shops.ownWriter.handle(wish)
  const page = await shops.ownWriter.reader.page({ after: 0, limit: 100 })
  const said = new Set<string>()
  for (const type of new Set(page.map((entry) => entry.type)))
    for (const value of [0, null, 'x', []]) {
      const store = await storeWith(type, () => value)
      const shop = (await store.getMeta('shop')) ?? ''
      const reader = readerOf(store, shop)
      const whole = emptyState(shop, emptyHead(shop).hash)
      const refs = page.flatMap(streamsOf)
      said.add(
        await reload(whole, refs, reader).then(
          () => 'read back',
          (error) => (error instanceof LogError ? error.code : `${type}: ${error}`),
        ),
      )
    }
  expect([...said].sort()).toEqual(['notUnderstood', 'read back'])
})
