import { describe, expect, test } from 'vitest'
import { SENSOR } from '../../machines/climate/decide.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import { FOLD_VERSION } from '../../machines/state.ts'
import { undoubted } from '../../server/clock.ts'
import { openWriter } from '../../server/handle.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { entriesAfter } from '../support/logEntries.ts'
import { failingStore } from '../support/logStores.ts'
import { command, JOB, vanInWork } from '../support/serverCommands.ts'
import { MINUTE, openTestShop, START_MS } from '../support/serverShop.ts'
import { gatedStore } from '../support/serverStores.ts'

const KEY = String(FOLD_VERSION)
const openJob = (id: string, job = JOB) => command(id, 'OpenJob', { job, title: 'Delivery van' })
const reading = (id: string, airC: number) =>
  command(id, 'ReadClimate', { zone: 'booth', airC, rh: 0.5 })
const sensed = (id: string, airC: number) => ({ ...reading(id, airC), source: SENSOR })

/** A shop behind a gate; the first start has passed it. */
async function gatedShop() {
  const gate = gatedStore(memoryStore())
  const shop = await openTestShop({ store: gate.store })
  const { handle, state } = shop.shops.ownWriter
  return { ...shop, gate, handle, state, first: gate.groups.length }
}

describe('commands that arrive together', () => {
  test('share one commit and are decided in order', async () => {
    const { gate, handle, first } = await gatedShop()
    const answers = await Promise.all(vanInWork.map(handle))
    expect(answers.map(({ status }) => status)).toEqual(vanInWork.map(() => 200))
    expect(gate.groups.length).toBe(first + 1)
    expect(gate.groups[first]?.map(({ command }) => command)).toEqual(vanInWork.map(({ id }) => id))
    expect(gate.groups[first]?.map(({ position }) => position)).toEqual([2, 3, 4, 5, 6, 7, 8])
  })

  test('are decided each on what the one before it left', async () => {
    const { handle } = await gatedShop()
    const answers = await Promise.all(
      [openJob('a'), openJob('b'), openJob('c', 'VANJAB33')].map(handle),
    )
    expect(answers).toMatchObject([
      { status: 200 },
      { status: 409, body: { refusal: { code: 'idTaken' } } },
      { status: 200, body: { position: 3 } },
    ])
  })

  test('are not answered before the commit, and those that come meanwhile wait for the next one', async () => {
    const { gate, handle, state, first } = await gatedShop()
    gate.shut()
    const answered: string[] = []
    const send = (id: string, job: string) =>
      handle(openJob(id, job)).then((answer) => {
        answered.push(id)
        return answer
      })
    const a = send('a', 'VANJAB22')
    await gate.asked(first + 1)
    const b = send('b', 'VANJAB33')
    const c = send('c', 'VANJAB44')
    expect(answered).toEqual([])
    expect(state().head).toBe(1)
    gate.open()
    expect(await Promise.all([a, b, c])).toMatchObject(
      [2, 3, 4].map((position) => ({ body: { position } })),
    )
    expect(gate.groups.slice(first).map((group) => group.length)).toEqual([1, 2])
  })

  test('are all answered with 503 when the commit fails, also those that were refused', async () => {
    const { store, failNextAppend } = failingStore(memoryStore())
    const { shops, reports } = await openTestShop({ store })
    const { handle, state } = shops.ownWriter
    const before = state()
    failNextAppend()
    const answers = await Promise.all([openJob('a'), openJob('b'), openJob('a')].map(handle))
    expect(answers).toMatchObject(
      answers.map(() => ({ status: 503, body: { error: { code: 'notStored' } } })),
    )
    expect(state()).toBe(before)
    expect(reports).toMatchObject([{ code: 'full' }])
    expect(await handle(openJob('a'))).toMatchObject({ status: 200, body: { position: 2 } })
  })

  test('do not wait for a commit when they make no sense by themselves', async () => {
    const { gate, handle } = await gatedShop()
    gate.shut()
    expect(await handle({ id: 'a', type: 'PaintItBlue' })).toMatchObject({
      status: 400,
      body: { error: { field: 'type' } },
    })
    gate.open()
  })
})

describe('the same command id again', () => {
  test('is the first answer again, within its group, while it is in flight and after it', async () => {
    const { gate, handle, first } = await gatedShop()
    gate.shut()
    const twins = [handle(openJob('a')), handle(openJob('a'))]
    await gate.asked(first + 1)
    const late = handle(openJob('a'))
    gate.open()
    const answers = await Promise.all([...twins, late])
    const [answer] = answers
    expect(answer).toMatchObject({ status: 200, body: { position: 2, entries: [{ id: 'a.0' }] } })
    expect(answers).toEqual([answer, answer, answer])
    expect(await handle(openJob('a'))).toEqual(answer)
  })

  test('with another body is refused, within its group and after it', async () => {
    const { handle } = await gatedShop()
    const reused = {
      status: 409,
      body: { refusal: { code: 'commandIdReused', overridable: false } },
    }
    const [first, second] = await Promise.all([
      handle(openJob('a')),
      handle(openJob('a', 'VANJAB33')),
    ])
    expect([first?.status, second]).toMatchObject([200, reused])
    expect(await handle({ ...openJob('a'), source: 'kiosk' })).toMatchObject(reused)
  })

  test('is the first answer again where nothing was recorded', async () => {
    const { handle, clock, state } = await gatedShop()
    await handle(sensed('r1', 20))
    const silent = await handle(sensed('r2', 20.1))
    expect(silent).toEqual({ status: 200, body: { position: 2, entries: [] } })
    clock.advance(20 * MINUTE)
    expect(await handle(sensed('r2', 20.1))).toEqual(silent)
    expect(await handle(sensed('r2', 25))).toMatchObject({
      status: 409,
      body: { refusal: { code: 'commandIdReused' } },
    })
    expect(state().head).toBe(2)
  })

  test('is decided again where it was refused', async () => {
    const { handle } = await gatedShop()
    const pause = command('p', 'PauseJob', { job: JOB })
    expect((await handle(pause)).status).toBe(409)
    await handle(openJob('a'))
    expect(await handle(pause)).toMatchObject({ status: 200, body: { position: 3 } })
  })

  test('is the first answer again after a restart', async () => {
    const store = memoryStore()
    const one = await openTestShop({ store })
    const answer = await one.shops.ownWriter.handle(openJob('a'))
    await one.shops.close()
    const two = await openTestShop({ store })
    two.clock.advance(MINUTE)
    expect(await two.shops.ownWriter.handle(openJob('a'))).toEqual(answer)
  })
})

describe('a shop', () => {
  test('has a random id and knows the time zone from its first start, and keeps both', async () => {
    const store = memoryStore()
    const { shops } = await openTestShop({ store })
    expect(shops.own).toMatch(/^[23456789ABCDEFGHJKMNPQRSTVWXYZ]{8}$/)
    expect(settingsOf(shops.ownWriter.state())).toEqual({ timeZone: 'Europe/Madrid' })
    await shops.close()
    const again = await openTestShop({ store })
    expect(again.shops.own).toBe(shops.own)
    expect(again.shops.ownWriter.state().head).toBe(1)
    expect((await openTestShop()).shops.own).not.toBe(shops.own)
  })

  test('counts its entries for itself, beside other shops in the same store', async () => {
    const { shops } = await openTestShop()
    const other = await shops.writer('THERSHAP')
    expect(await shops.writer('THERSHAP')).toBe(other)
    const [ours, theirs] = await Promise.all([
      shops.ownWriter.handle(openJob('a')),
      other.handle(openJob('a')),
    ])
    expect(ours).toMatchObject({ body: { position: 2, entries: [{ shop: shops.own }] } })
    expect(theirs).toMatchObject({ body: { position: 1, entries: [{ shop: 'THERSHAP' }] } })
    expect(shops.ownWriter.state().headHash).not.toBe(other.state().headHash)
  })

  test("records no entry before the one in front of it, when the computer's clock was set back", async () => {
    const store = memoryStore()
    let now = START_MS
    const deps = {
      store,
      clock: { now: () => now, standing: () => undoubted(now) },
      report: () => {},
    }
    const writer = await openWriter('SHAPSHAP', deps)
    await writer.handle(openJob('a'))
    now -= 3 * MINUTE
    const answer = await writer.handle(openJob('b', 'VANJAB33'))
    expect(answer).toMatchObject({ body: { entries: [{ at: now, recordedAt: START_MS }] } })
  })

  test('takes no commands once it is closing, and finishes those it has', async () => {
    const { shops, store } = await openTestShop()
    const { handle, close } = shops.ownWriter
    const before = handle(openJob('a'))
    const closed = close()
    expect(await handle(openJob('b'))).toMatchObject({
      status: 503,
      body: { error: { code: 'stopping' } },
    })
    expect(await before).toMatchObject({ status: 200 })
    await closed
    expect((await store.head(shops.own)).position).toBe(2)
  })

  test('refuses a replacement that has no text, and records nothing', async () => {
    const { handle, state } = await gatedShop()
    const replace = { type: 'OpenJob', data: { title: '\ud800' } }
    const wish = command('v', 'VoidEntry', { entry: 'first-start.0', reason: 'a slip', replace })
    expect(await handle(wish)).toMatchObject({ status: 400, body: { error: { field: 'body' } } })
    expect(state().head).toBe(1)
  })
})

describe('a log with entries of a newer version', () => {
  const unknown = [
    { type: 'PaintWeathered', version: 1 },
    { type: 'JobOpened', version: 99, job: 'VANJAB77' },
  ]

  test.each(unknown)('is read but not decided on: $type $version', async (content) => {
    const store = memoryStore()
    const one = await openTestShop({ store })
    const first = await one.shops.ownWriter.handle(openJob('a'))
    await one.shops.close()
    const { own } = one.shops
    const head = await store.head(own)
    await store.append(own, head.position, entriesAfter(own, head, [content]))

    const { shops, get } = await openTestShop({ store })
    const { handle, state } = shops.ownWriter
    expect(await handle(openJob('b', 'VANJAB33'))).toMatchObject({
      status: 409,
      body: { refusal: { code: 'newerLog', also: [], overridable: false } },
    })
    expect(await handle(openJob('a'))).toEqual(first)
    expect(state().head).toBe(3)
    expect(Object.keys(state().things.job)).toEqual([JOB])
    expect(await get('/api/entries?after=2')).toMatchObject({ body: { entries: [content] } })
    expect(await get('/healthz')).toMatchObject({ body: { ok: true, decides: false } })
    // A snapshot would hide the entry from the program that knows it.
    await shops.close()
    expect((await store.getSnapshot(own, KEY))?.position).toBe(2)
  })
})
