import { expect, test } from 'vitest'
import { memoryStore } from '../../server/log/memory.ts'
import { countingStore } from '../support/countingStore.ts'
import { command, JOB } from '../support/serverCommands.ts'
import { openTestShop, type TestShop } from '../support/serverShop.ts'
import { TailClient } from '../support/serverTail.ts'

/** A tail from the first entry on is sent in pages, and whoever asks meanwhile comes between them. */

const reading = (i: number) =>
  command(`r${i}`, 'ReadClimate', { zone: 'booth', airC: 15 + (i % 2) * 5, rh: 0.5 })

async function follow(shop: TestShop): Promise<TailClient> {
  const { body } = await shop.app.request('/api/tail')
  if (!body) throw new Error('no body')
  return new TailClient(body)
}

const at = (position: number) => (message: { id: string | null }) =>
  message.id?.startsWith(`${position}:`) ?? false

test('twenty that read the whole history at once are sent one page of it in a turn, all together', async () => {
  const PAGE = 200
  const counting = countingStore(memoryStore())
  const shop = await openTestShop({ store: counting.store })
  const { handle } = shop.shops.ownWriter
  await Promise.all(Array.from({ length: 1_999 }, (_, i) => handle(reading(i + 2))))
  const before = counting.rows()
  let [most, last, isDone] = [0, before, false]
  const look = () => {
    most = Math.max(most, counting.rows() - last)
    last = counting.rows()
    if (!isDone) setImmediate(look)
  }
  setImmediate(look)
  const twenty = await Promise.all(Array.from({ length: 20 }, () => follow(shop)))
  await Promise.all(twenty.map((tail) => tail.until(at(2_000))))
  isDone = true
  // The newest thousand are in memory.
  expect(counting.rows() - before).toBeGreaterThanOrEqual(20 * 1_000)
  expect(most).toBeLessThanOrEqual(PAGE)
  await Promise.all(twenty.map((tail) => tail.close()))
})

test('six from the first entry on and a hundred that take nothing: between their pages another client is answered, and beats go out', async () => {
  const count = 6_000
  const shop = await openTestShop()
  const { handle } = shop.shops.ownWriter
  await Promise.all(Array.from({ length: count - 1 }, (_, i) => handle(reading(i + 2))))
  expect(shop.shops.ownWriter.state().head).toBe(count)
  const silent = await Promise.all(Array.from({ length: 100 }, () => follow(shop)))
  const six = await Promise.all(Array.from({ length: 6 }, () => follow(shop)))
  const all = six.map((tail) => tail.until(at(count)))
  // Another client presses and asks while they read.
  const press = command('j', 'OpenJob', { job: JOB, title: 'Delivery van' })
  expect((await shop.post('/api/commands', press)).status).toBe(200)
  const readByThen = six.map((tail) => tail.entries.length)
  expect((await shop.get('/api/scan/x')).status).toBe(404)
  shop.clock.advance(5_000)
  await Promise.all(all)
  expect(Math.max(...readByThen)).toBeLessThan(count / 4)
  for (const tail of six) {
    const beat = tail.messages.findIndex(({ event }) => event === 'beat')
    expect(beat).toBeGreaterThan(-1)
    expect(beat).toBeLessThan(count / 2)
  }
  await Promise.all([...six, ...silent].map((tail) => tail.close()))
})
