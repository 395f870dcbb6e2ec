import { afterEach, expect, test } from 'vitest'
import { shopCopy } from '../../kiosk/commands/copy.ts'
import { type Link, shopLink, type Tail } from '../../kiosk/commands/link.ts'
import { outbox } from '../../kiosk/commands/outbox.ts'
import { memoryOutboxDb } from '../../kiosk/commands/outboxDb.ts'
import { kioskClock } from '../../kiosk/device/clock.ts'
import type { StateAnswer } from '../../machines/contract.ts'
import type { Entry } from '../../machines/envelope.ts'
import { evict } from '../../machines/evict.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { withoutSeals } from '../support/seals.ts'
import { CUP, command, DOOR, JOB, vanInWork } from '../support/serverCommands.ts'
import { openTestShop } from '../support/serverShop.ts'

/** What a kiosk shows of its own presses before the tail has brought them back. */

const links: Link[] = []
afterEach(() => {
  for (const link of links.splice(0)) link.stop()
})

/** A tail that says hello and then brings nothing. */
const stalled = (): Tail => ({
  addEventListener(type, heard) {
    const clock = { doubt: null, wallMs: 0, era: 0 }
    const hello = { build: 'test-build', serverTime: Date.UTC(2026, 0, 5, 8), clock, loss: null }
    if (type === 'hello')
      queueMicrotask(() => heard(new MessageEvent('hello', { data: JSON.stringify(hello) })))
  },
  close() {},
})

async function kioskOnStalledTail() {
  const shop = await openTestShop()
  await shop.post('/api/commands', vanInWork)
  const sample = () => ({ monotonicMs: shop.clock.now(), deviceMs: shop.clock.now() })
  const clock = kioskClock(sample)
  const link = shopLink({
    fetch: async (path, init) => await shop.app.request(path, init),
    openTail: stalled,
    wait: () => new Promise(() => {}),
    heard: clock.heard,
    loaded: () => {},
    seen: () => {},
    now: () => shop.clock.now(),
    leaving: () => () => {},
    evict: () => evict,
    random: () => 0,
    build: 'test-build',
    kept: async () => null,
    keep: async () => {},
  })
  links.push(link)
  await expect.poll(() => link.is.value).toBe('live')
  const out = outbox({
    db: Promise.resolve(memoryOutboxDb()),
    fetch: async (path, init) => await shop.app.request(path, init),
    time: clock.read,
    confirmed: link.state,
    taken: link.take,
    link: link.is,
    wait: () => new Promise(() => {}),
    alone: (work) => work(),
    others: { tell: () => {}, hear: () => {} },
    rules: () => Promise.reject(new Error('Not wanted: the server answers.')),
    notTaken: () => {},
  })
  const panel = () => contextOf(out.state.value as State, 'panel', DOOR)
  return { shop, link, out, panel }
}

test('with a stalled tail a press shows at once, and the second press is about it', async () => {
  const { shop, out, panel, link } = await kioskOnStalledTail()
  expect(panel()?.open).toBeNull()
  expect(await out.send('StartCoat', { panels: [DOOR], cup: CUP })).toMatchObject({ kind: 'kept' })
  expect(panel()?.open).not.toBeNull()
  shop.clock.advance(60_000)
  expect(await out.send('FinishCoat', { panels: [DOOR] })).toMatchObject({ kind: 'kept' })
  expect(panel()?.open).toBeNull()
  expect(panel()?.coats).toHaveLength(1)
  expect(withoutSeals(link.state.value)).toEqual(withoutSeals(shop.shops.ownWriter.state()))
})

test('a press after somebody else’s shows too, though the tail has not brought theirs', async () => {
  const { shop, out, panel, link } = await kioskOnStalledTail()
  const head = link.state.value?.head
  await shop.post('/api/commands', command('other', 'AddNote', { job: JOB, text: 'a nib' }))
  await out.send('StartCoat', { panels: [DOOR], cup: CUP })
  expect(panel()?.open).not.toBeNull()
  // What is kept on the device, and where the tail goes on, is the log without a gap.
  expect(link.state.value?.head).toBe(head)
  await out.send('FinishCoat', { panels: [DOOR] })
  expect(panel()?.coats).toHaveLength(1)
})

/** A log of the van in work and more, and a copy of the shop as it was before that. */
async function grownShop() {
  const shop = await openTestShop()
  await shop.post('/api/commands', vanInWork)
  const { body } = (await shop.get('/api/state')) as { body: StateAnswer }
  const copy = shopCopy(
    () => null,
    () => evict,
  )
  copy.renew()(body.state)
  const say = (id: string) => command(id, 'AddNote', { job: JOB, text: id })
  await shop.post('/api/commands', ['a', 'b', 'c', 'd'].map(say))
  const all = (await shop.get('/api/entries?after=8')).body as { entries: Entry[] }
  return { shop, copy, entries: all.entries, state: shop.shops.ownWriter.state() }
}

test('entries of answer and tail are folded once, in whichever order they come', async () => {
  const { copy, entries, state } = await grownShop()
  const [a, b, c, d] = entries as [Entry, Entry, Entry, Entry]
  copy.take([c])
  copy.take([d])
  copy.add(a)
  copy.take([a])
  expect(copy.confirmed.value?.head).toBe(9)
  const notes = () => contextOf(copy.state.value as State, 'job', JOB)?.notes.map((n) => n.text)
  expect(notes()).toEqual(['a', 'c', 'd'])
  copy.add(b)
  expect(copy.confirmed.value).toEqual(JSON.parse(JSON.stringify(state)))
  expect(copy.state.value).toBe(copy.confirmed.value)
  for (const entry of [b, c, d]) copy.add(entry)
  expect(copy.confirmed.value?.head).toBe(12)
})

test('an answer that is gone from a log that was cut does not stay', async () => {
  const { copy, entries } = await grownShop()
  const before = copy.confirmed.value as State
  copy.take(entries.slice(2))
  const renewed = copy.renew()
  renewed(before)
  expect(copy.state.value).toBe(before)
})
