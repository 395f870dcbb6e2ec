import { describe, expect, test } from 'vitest'
import { TAIL_EVENTS, TAIL_KINDS, tailData, tailMessage } from '../../machines/contract.ts'
import type { Entry } from '../../machines/envelope.ts'
import { FOLD_VERSION } from '../../machines/state.ts'
import { LogError, type Store } from '../../server/log/log.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { BEAT_MS } from '../../server/tail.ts'
import { nextTurn } from '../../server/turn.ts'
import { command, JOB, vanInWork } from '../support/serverCommands.ts'
import { openTestShop, START_MS, type TestShop } from '../support/serverShop.ts'
import { gatedStore } from '../support/serverStores.ts'
import { TailClient } from '../support/serverTail.ts'

const reading = (i: number) =>
  command(`r${i}`, 'ReadClimate', { zone: 'booth', airC: 15 + (i % 2) * 5, rh: 0.5 })

async function follow(shop: TestShop, query = '', lastEventId?: string): Promise<TailClient> {
  const headers: Record<string, string> = lastEventId ? { 'Last-Event-ID': lastEventId } : {}
  const response = await shop.app.request(`/api/tail${query}`, { headers })
  expect(response.status).toBe(200)
  expect(response.headers.get('Content-Type')).toBe('text/event-stream')
  expect(response.headers.get('Cache-Control')).toBe('no-store')
  if (!response.body) throw new Error('no body')
  return new TailClient(response.body)
}

const at = (position: number) => (message: { id: string | null }) =>
  message.id?.startsWith(`${position}:`) ?? false

async function workingShop(store?: Store): Promise<TestShop> {
  const shop = await openTestShop(store ? { store } : {})
  await Promise.all(vanInWork.map(shop.shops.ownWriter.handle))
  return shop
}

describe('a tail', () => {
  test('says first whom it talks to, then all that was committed, in order', async () => {
    const shop = await workingShop()
    const tail = await follow(shop)
    await tail.until(at(8))
    const [hello, ...entries] = tail.messages
    expect(hello).toEqual({
      event: 'hello',
      id: null,
      data: {
        build: 'test-build',
        foldVersion: FOLD_VERSION,
        head: 8,
        serverTime: START_MS,
        clock: { doubt: null, wallMs: START_MS, era: 0 },
        loss: null,
        disk: null,
        kiosks: { open: 0, sounding: 0 },
        backup: null,
      },
    })
    const { body } = await shop.get('/api/entries')
    const stored = (body as { entries: Entry[] }).entries
    expect(entries).toEqual(
      stored.map((entry) => ({
        event: 'message',
        id: `${entry.position}:${entry.hash.slice(0, 8)}`,
        data: entry,
      })),
    )
    await tail.close()
  })

  test('goes on with what is committed later', async () => {
    const shop = await workingShop()
    const tail = await follow(shop)
    await tail.until(at(8))
    const next = tail.next()
    await shop.post('/api/commands', command('p', 'PauseJob', { job: JOB }))
    expect(await next).toMatchObject({ id: expect.stringMatching(/^9:/), data: { id: 'p.0' } })
    await tail.until(at(11))
    await tail.close()
  })

  test('shows nothing before it is durable', async () => {
    const gate = gatedStore(memoryStore())
    const shop = await workingShop(gate.store)
    const tail = await follow(shop, '?after=8')
    await tail.until(({ event }) => event === 'hello')
    gate.shut()
    const asked = gate.groups.length
    const answer = shop.shops.ownWriter.handle(command('p', 'PauseJob', { job: JOB }))
    await gate.asked(asked + 1)
    // What a client would see now is the beat, and no entry in front of it.
    shop.clock.advance(5_000)
    expect(await tail.next()).toMatchObject({ event: 'beat' })
    gate.open()
    expect(await tail.next()).toMatchObject({ data: { id: 'p.0' } })
    expect(await answer).toMatchObject({ status: 200 })
    await tail.close()
  })

  test("beats with the server's time every 5 s, and no longer when nobody listens", async () => {
    const shop = await openTestShop()
    const tails = [await follow(shop), await follow(shop)]
    for (const tail of tails) await tail.until(at(1))
    expect(shop.clock.timers).toBe(1)
    for (const seconds of [5, 10, 15]) {
      shop.clock.advance(5_000)
      const serverTime = START_MS + seconds * 1_000
      for (const tail of tails)
        expect(await tail.next()).toEqual({
          event: 'beat',
          id: null,
          data: {
            serverTime,
            clock: { doubt: null, wallMs: serverTime, era: 0 },
            loss: null,
            disk: null,
            kiosks: { open: 0, sounding: 0 },
            backup: null,
          },
        })
    }
    for (const tail of tails) await tail.close()
    expect(shop.clock.timers).toBe(0)
  })

  test('ends when the server stops, so that a client comes again', async () => {
    const shop = await openTestShop()
    const tail = await follow(shop)
    await tail.until(at(1))
    const next = tail.next()
    await shop.shops.close()
    expect(await next).toBeNull()
    expect(shop.clock.timers).toBe(0)
  })

  test('ends without an error when the log cannot be read, and reports it', async () => {
    const broken = new LogError({ op: 'read', shop: null }, 'io', 'The disk failed.', 'Look at it.')
    const inner = memoryStore()
    let isBroken = false
    const read: Store['read'] = (...a) => (isBroken ? Promise.reject(broken) : inner.read(...a))
    const shop = await openTestShop({ store: { ...inner, read } })
    await shop.shops.close()
    const again = await openTestShop({ store: { ...inner, read } })
    isBroken = true
    const tail = await follow(again)
    expect(await tail.next()).toMatchObject({ event: 'hello' })
    expect(await tail.next()).toBeNull()
    expect(again.reports).toEqual([broken])
  })
})

describe('a tail goes on', () => {
  test('behind the id that a client saw last', async () => {
    const shop = await workingShop()
    const first = await follow(shop)
    const seen = await first.until(at(5))
    await first.close()
    const second = await follow(shop, '', seen.id ?? '')
    await second.until(at(8))
    expect(second.entries.map(({ id }) => id?.[0])).toEqual(['6', '7', '8'])
    await second.close()
  })

  test('behind ?after, an id or a bare position; the browser’s own Last-Event-ID goes first', async () => {
    const shop = await workingShop()
    const ids = (await shop.shops.ownWriter.reader.page({ after: 0, limit: 8 })).map(
      ({ position, hash }) => `${position}:${hash.slice(0, 8)}`,
    )
    for (const [query, header, next] of [
      [`?after=${ids[5]}`, undefined, 7],
      ['?after=5', undefined, 6],
      ['?after=0', undefined, 1],
      [`?after=${ids[1]}`, ids[6], 8],
    ] as const) {
      const tail = await follow(shop, query, header)
      expect((await tail.next())?.event).toBe('hello')
      expect((await tail.next())?.id).toBe(ids[next - 1])
      await tail.close()
    }
  })

  test('behind the state that was loaded, without a gap', async () => {
    const shop = await workingShop()
    const { body } = await shop.get('/api/state')
    const { tail: id } = body as { tail: string }
    await shop.post('/api/commands', command('p', 'PauseJob', { job: JOB }))
    const tail = await follow(shop, `?after=${id}`)
    await tail.until(at(11))
    expect(tail.entries.map((m) => m.id?.split(':')[0])).toEqual(['9', '10', '11'])
    await tail.close()
  })

  test.each([
    ['beyond the end', '99:01234567'],
    ['of another log', '3:00000000'],
    ['of another empty log', '0:00000000'],
    ['that is not one', 'yesterday'],
    ['beyond the end, without a hash', '9'],
  ])('from now on, and says so, after an id %s', async (_what, unknown) => {
    const shop = await workingShop()
    const { headHash } = shop.shops.ownWriter.state()
    const tail = await follow(shop, '', unknown)
    expect((await tail.next())?.event).toBe('hello')
    const id = `8:${headHash.slice(0, 8)}`
    expect(await tail.next()).toEqual({
      event: 'reset',
      id,
      data: { code: 'unknownTail', params: { unknown, head: 8 }, tail: id },
    })
    await shop.post('/api/commands', command('p', 'PauseJob', { job: JOB }))
    expect((await tail.next())?.id).toMatch(/^9:/)
    await tail.close()
  })

  test("from the first entry on behind an empty log's own id", async () => {
    const shop = await workingShop()
    const hash = new Bun.CryptoHasher('sha256').update(shop.shops.own).digest('hex')
    const tail = await follow(shop, `?after=0:${hash.slice(0, 8)}`)
    expect((await tail.next())?.event).toBe('hello')
    expect((await tail.next())?.id).toMatch(/^1:/)
    await tail.close()
  })
})

test('every kind of message crosses the tail in codes, without a sentence, and is read as it was sent', async () => {
  const shop = await workingShop()
  const tail = await follow(shop, '', '99:01234567')
  await tail.next()
  await tail.next()
  await shop.post('/api/commands', command('p', 'PauseJob', { job: JOB }))
  await tail.until(({ event }) => event === 'message')
  shop.clock.advance(BEAT_MS)
  await tail.until(({ event }) => event === 'beat')
  for (const kind of TAIL_KINDS) {
    const sent = tail.messages.find(({ event }) => event === TAIL_EVENTS[kind])?.data
    expect(sent, kind).toBeTypeOf('object')
    const read = tailMessage(kind, JSON.stringify(sent))
    expect(read.kind).toBe(kind)
    expect(tailData(read)).toEqual(sent)
    // What people wrote is in entries alone; all else is codes, ids and numbers.
    if (kind !== 'entry') expect(JSON.stringify(sent)).not.toMatch(/\s/)
  }
  expect(new Set(tail.messages.map(({ event }) => event))).toEqual(
    new Set(Object.values(TAIL_EVENTS)),
  )
  await tail.close()
})

describe('many entries and slow clients', () => {
  async function longLog(count: number): Promise<TestShop> {
    const shop = await openTestShop()
    const all = Array.from({ length: count - 1 }, (_, i) => reading(i + 2))
    await Promise.all(all.map(shop.shops.ownWriter.handle))
    expect(shop.shops.ownWriter.state().head).toBe(count)
    return shop
  }

  test('every entry comes once, also those no longer in memory', async () => {
    const shop = await longLog(2_300)
    const tail = await follow(shop)
    await tail.until(at(2_300))
    const ids = tail.entries.map(({ id }) => Number(id?.split(':')[0]))
    expect(ids).toEqual(Array.from({ length: 2_300 }, (_, i) => i + 1))
    await tail.close()
  })

  test('a client that takes nothing does not hold up the others, and is dropped', async () => {
    const shop = await longLog(600)
    const slow = await follow(shop)
    expect((await slow.next())?.event).toBe('hello')
    const quick = await follow(shop, '?after=590')
    await quick.until(at(600))
    // What lies ready for the slow one was read from the log, in a turn of its own.
    await nextTurn()
    for (let beat = 0; beat < 4; beat += 1) {
      shop.clock.advance(5_000)
      await quick.until(({ event }) => event === 'beat')
    }
    await expect(slow.until(at(600))).rejects.toThrow('took nothing')
    await shop.post('/api/commands', command('j', 'OpenJob', { job: JOB, title: 'Delivery van' }))
    await quick.until(at(601))
    await quick.close()
    expect(shop.clock.timers).toBe(0)
  })

  test('a client that only waits is not slow', async () => {
    const shop = await openTestShop()
    const tail = await follow(shop)
    await tail.until(at(1))
    for (let beat = 0; beat < 10; beat += 1) {
      shop.clock.advance(5_000)
      expect((await tail.next())?.event).toBe('beat')
    }
    await tail.close()
  })
})
