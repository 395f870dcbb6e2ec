import { expect, onTestFinished, test } from 'vitest'
import { verify } from '../../server/log/chain.ts'
import { inPages, type Store } from '../../server/log/log.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { sqliteStore } from '../../server/log/sqlite.ts'
import { openShops } from '../../server/shops.ts'
import { logFolder } from '../support/logFiles.ts'
import { lateStore } from '../support/logStores.ts'
import { command, JOB, vanInWork } from '../support/serverCommands.ts'
import { openTestShop } from '../support/serverShop.ts'
import { exchangeableStore } from '../support/serverStores.ts'
import { TailClient } from '../support/serverTail.ts'

/** Two servers on one store: neither knows of the other but by the log. */
async function twoServers(store: Store) {
  const one = await openTestShop({ store })
  const two = await openTestShop({ store })
  expect(two.shops.own).toBe(one.shops.own)
  return { one, two, a: one.shops.ownWriter, b: two.shops.ownWriter }
}

const openJob = (id: string, job: string) =>
  command(id, 'OpenJob', { job, title: 'Delivery van, rear corner' })

test('a server decides on what another one has written', async () => {
  const { a, b } = await twoServers(memoryStore())
  for (const wish of vanInWork) await a.handle(wish)
  expect(b.state().head).toBe(1)
  expect(await b.handle(command('pause', 'PauseJob', { job: JOB }))).toMatchObject({
    status: 200,
    body: { position: 11 },
  })
  expect(b.state().head).toBe(11)
  expect(await a.handle(command('resume', 'ResumeJob', { job: JOB }))).toMatchObject({
    status: 200,
  })
  await b.handle(openJob('last', 'VANJAB33'))
  await a.handle(command('refused', 'PauseJob', { job: 'NABADY22' }))
  expect(a.state()).toEqual(b.state())
})

test('a refusal is judged by the whole log too', async () => {
  const { a, b } = await twoServers(memoryStore())
  await a.handle(openJob('a', JOB))
  expect(await b.handle(openJob('b', JOB))).toMatchObject({
    status: 409,
    body: { refusal: { code: 'idTaken' } },
  })
})

test('the same command sent to two servers is recorded once and answered the same', async () => {
  const { one, a, b } = await twoServers(lateStore(memoryStore()))
  const answers = await Promise.all([a.handle(openJob('a', JOB)), b.handle(openJob('a', JOB))])
  expect(answers[0]).toMatchObject({ status: 200, body: { position: 2 } })
  expect(answers[1]).toEqual(answers[0])
  expect((await one.store.head(one.shops.own)).position).toBe(2)
})

const stores: Readonly<Record<string, () => { store: Store; remove: () => void }>> = {
  'in memory': () => ({ store: memoryStore(), remove: () => {} }),
  'in memory, answering late': () => ({ store: lateStore(memoryStore()), remove: () => {} }),
  'in SQLite, answering late': () => {
    const { file, remove } = logFolder()
    const inner = sqliteStore(file)
    const close = () => void inner.close().then(remove)
    return { store: lateStore(inner), remove: close }
  },
}

test.each(Object.entries(stores))(
  'two servers under load give every place once and agree in the end, %s',
  async (_name, make) => {
    const { store, remove } = make()
    onTestFinished(remove)
    const { one, a, b } = await twoServers(store)
    const letters = '23456789ABCDEFGHJKMN'
    const sent = [...letters].flatMap((x) =>
      [a, b].map(async (writer, i) => {
        // Some in one turn, some in later ones.
        for (let turn = letters.indexOf(x) % 5; turn > 0; turn -= 1)
          await new Promise((done) => setImmediate(done))
        return await writer.handle(openJob(`${i}-${x}`, `VANJAB${i + 2}${x}`))
      }),
    )
    const answers = await Promise.all(sent)
    const positions = answers.map((answer) =>
      answer.status === 200 ? answer.body.position : Number.NaN,
    )
    expect(positions.toSorted((x, y) => x - y)).toEqual(answers.map((_, i) => i + 2))
    // What changes nothing still shows each where the log is.
    await Promise.all(
      [a, b].map((w, i) => w.handle(command(`x${i}`, 'PauseJob', { job: 'NABADY22' }))),
    )
    expect(a.state()).toEqual(b.state())
    expect(a.state().head).toBe(41)
    const { own } = one.shops
    const verdict = await verify(
      own,
      inPages((page) => store.raw(own, page)),
    )
    expect(verdict).toMatchObject({ ok: true, head: { position: 41 } })
  },
)

test('what another server wrote reaches the tail, in order and once', async () => {
  const { two, a, b } = await twoServers(memoryStore())
  const tail = new TailClient(bodyOf(await two.app.request('/api/tail')))
  await tail.until(({ id }) => id?.startsWith('1:') ?? false)
  for (const wish of vanInWork) await a.handle(wish)
  await b.handle(openJob('b', 'VANJAB33'))
  await tail.until(({ id }) => id?.startsWith('9:') ?? false)
  expect(tail.entries.map(({ id }) => id?.split(':')[0])).toEqual('123456789'.split(''))
  await tail.close()
})

test('a log that was restored under a server is loaded afresh, and its tails end', async () => {
  const store = memoryStore()
  const { store: used, exchange } = exchangeableStore(store)
  const shop = await openTestShop({ store: used })
  const { ownWriter, own } = shop.shops
  await ownWriter.handle(openJob('a', JOB))
  const tail = new TailClient(bodyOf(await shop.app.request('/api/tail')))
  const seen = await tail.until(({ id }) => id?.startsWith('2:') ?? false)

  // A backup from after the first start, that went on in another way.
  const backup = memoryStore()
  await backup.putMeta('shop', own)
  await backup.append(own, 0, await store.read(own, { after: 0, limit: 1 }))
  const deps = { store: backup, clock: shop.clock, report: () => {}, timeZone: () => 'UTC' }
  const other = await openShops(deps)
  for (const wish of vanInWork) await other.ownWriter.handle(wish)
  exchange(backup)

  expect(await ownWriter.handle(openJob('b', 'VANJAB33'))).toMatchObject({
    status: 200,
    body: { position: 9 },
  })
  expect(ownWriter.state().things.job).toHaveProperty('VANJAB33')
  expect(await tail.next()).toBeNull()
  const headers = { 'Last-Event-ID': seen.id ?? '' }
  const again = new TailClient(bodyOf(await shop.app.request('/api/tail', { headers })))
  expect((await again.next())?.event).toBe('hello')
  expect(await again.next()).toMatchObject({
    event: 'reset',
    data: { params: { unknown: seen.id, head: 9 } },
  })
  await again.close()
})

function bodyOf(response: Response): ReadableStream<Uint8Array> {
  if (response.status !== 200 || !response.body) throw new Error(`status ${response.status}`)
  return response.body
}
