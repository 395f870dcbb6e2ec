import { afterEach, expect, test } from 'vitest'
import {
  type Link,
  SHOW_KEPT_AFTER_MS,
  SILENT_MS,
  shopLink,
  type Tail,
} from '../../kiosk/commands/link.ts'
import { lossIn } from '../../machines/contract.ts'
import { withoutSeals } from '../support/seals.ts'
import { CUP, DOOR, JOB as VAN, vanInWork } from '../support/serverCommands.ts'
import { MINUTE, openTestShop, type TestShop } from '../support/serverShop.ts'
import { TailClient } from '../support/serverTail.ts'

/** A kiosk's copy of the shop, when entries arrive about things that the server had evicted. */

const HOUR = 60 * MINUTE
const GUN = 'gun-1'
const links: Link[] = []
afterEach(() => {
  for (const link of links.splice(0)) link.stop()
})

/** A server that keeps a snapshot after every command, and then evicts what is not open work. */
async function tidyShop() {
  const shop = await openTestShop({ snapshotEvery: 1 })
  let count = 0
  const say = async (type: string, data: object, late: object = {}): Promise<void> => {
    count += 1
    const command = { id: `say-${count}`, type, data, ...late }
    const { status, body } = await shop.post('/api/commands', command)
    expect(body, type).toEqual(expect.objectContaining({ entries: expect.any(Array) }))
    expect(status).toBe(200)
  }
  for (const wish of vanInWork) await shop.shops.ownWriter.handle(wish)
  const things = () => withoutSeals(shop.shops.ownWriter.state().things)
  return { shop, say, things }
}

/** The server's tail as a browser's EventSource gives it. */
function tailOf({ app }: TestShop, after: string): Tail {
  const heard = new EventTarget()
  let client: TailClient | null = null
  let isClosed = false
  const read = async () => {
    const { body } = await app.request(`/api/tail?after=${encodeURIComponent(after)}`)
    if (body === null) throw new Error('The tail has no body.')
    client = new TailClient(body)
    for (let next = await client.next(); next && !isClosed; next = await client.next())
      heard.dispatchEvent(new MessageEvent(next.event, { data: JSON.stringify(next.data) }))
  }
  void read()
  return {
    addEventListener: (type, listener) =>
      heard.addEventListener(type, (event) => {
        if (event instanceof MessageEvent) listener(event)
      }),
    close() {
      isClosed = true
      void client?.close()
    },
  }
}

/** A kiosk's link to a shop, by other sources than a kiosk's usual ones. */
function linked(shop: TestShop, other: Partial<Parameters<typeof shopLink>[0]>): Link {
  const link = shopLink({
    fetch: async (path, init) => await shop.app.request(path, init),
    openTail: (after) => tailOf(shop, after),
    // No line is ever silent for too long; the server is asked again at once.
    wait: (ms) => (ms < SILENT_MS ? Promise.resolve() : new Promise(() => {})),
    heard: () => {},
    loaded: () => {},
    seen: () => {},
    now: () => shop.clock.now(),
    random: () => 0,
    build: 'test-build',
    kept: async () => null,
    keep: async () => {},
    leaving: () => () => {},
    ...other,
  })
  links.push(link)
  return link
}

/** A kiosk that has just been loaded, and how often it asked for the whole state. */
async function kiosk(shop: TestShop, openTail = (after: string) => tailOf(shop, after)) {
  let asked = 0
  const fetch = async (path: string, init?: RequestInit) => {
    asked += 1
    return await shop.app.request(path, init)
  }
  const link = linked(shop, { fetch, openTail })
  await expect.poll(() => link.is.value).toBe('live')
  return {
    link,
    asked: () => asked,
    things: () => link.state.value && withoutSeals(link.state.value.things),
    /** Waits until the kiosk has every entry. */
    follows: () =>
      expect.poll(() => link.state.value?.head).toBe(shop.shops.ownWriter.state().head),
  }
}

test('a job that is opened again comes back whole on a kiosk that never had it', async () => {
  const { shop, say, things } = await tidyShop()
  await say('CloseJob', { job: VAN, override: { reason: 'BREAK' } })
  shop.clock.advance(5 * HOUR)
  await say('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
  await expect.poll(() => things().job).toEqual({})
  const page = await kiosk(shop)
  expect(page.things()?.job).toEqual({})
  expect(page.things()?.panel).toEqual({})
  await say('ReopenJob', { job: VAN })
  await page.follows()
  expect(page.things()?.job[VAN]).toMatchObject({
    value: 'open',
    context: { title: 'Delivery van, rear corner' },
  })
  expect(page.things()?.panel[DOOR]).toMatchObject({ context: { name: 'Rear door' } })
  expect(page.things()).toEqual(things())
  expect(page.asked()).toBe(2)

  // From there on it follows as before.
  await say('AddNote', { job: VAN, text: 'two nibs in the door' })
  await page.follows()
  expect(page.things()).toEqual(things())
  expect(page.asked()).toBe(2)
})

test('a cup whose emptying is voided is back on a kiosk that had evicted it', async () => {
  const { shop, say, things } = await tidyShop()
  await say('EmptyCup', { cup: CUP, how: 'discarded' })
  shop.clock.advance(13 * HOUR)
  await say('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
  await expect.poll(() => things().cup).toEqual({})
  const page = await kiosk(shop)
  expect(page.things()?.cup).toEqual({})
  const emptied = await shop.shops.ownWriter.reader.byThing('cup', CUP)
  const { id } = emptied.find(({ type }) => type === 'CupEmptied') ?? { id: '' }
  await say('VoidEntry', { entry: id, reason: 'MISTAP' })
  await page.follows()
  expect(page.things()?.cup[CUP]).toMatchObject({ value: 'stored', context: { emptiedAt: null } })
  expect(page.things()).toEqual(things())
})

test('a gun whose cleaning of yesterday is voided holds its earlier material', async () => {
  const { shop, say, things } = await tidyShop()
  await say('SaveGun', { gun: GUN })
  await say('LoadGun', { gun: GUN, cup: CUP })
  shop.clock.advance(MINUTE)
  await say('CleanGun', { gun: GUN })
  shop.clock.advance(13 * HOUR)
  await say('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
  const page = await kiosk(shop)
  const ofGun = await shop.shops.ownWriter.reader.byThing('gun', GUN)
  const { id } = ofGun.find(({ type }) => type === 'GunCleaned') ?? { id: '' }
  await say('VoidEntry', { entry: id, reason: 'MISTAP' })
  await page.follows()
  expect(page.things()?.gun[GUN]).toMatchObject({ context: { loads: [{ cup: CUP }] } })
  expect(page.things()?.gun[GUN]?.context).toEqual(things().gun[GUN]?.context)
})

test('a late coat on a cup of two weeks ago makes a kiosk ask for what it has evicted', async () => {
  const { shop, say, things } = await tidyShop()
  const page = await kiosk(shop)
  const emptiedAt = shop.clock.now()
  await say('EmptyCup', { cup: CUP, how: 'discarded' })
  await page.follows()
  shop.clock.advance(14 * 24 * HOUR)
  await say('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
  await page.follows()
  // Both evicted it by themselves: nothing was asked for.
  await expect.poll(() => things().cup).toEqual({})
  expect(page.things()?.cup).toEqual({})
  expect(page.asked()).toBe(1)

  const late = { at: emptiedAt - MINUTE, reason: 'found on a note' }
  await say('StartCoat', { panels: [DOOR], cup: CUP }, late)
  await page.follows()
  await expect.poll(page.asked).toBe(2)
  expect(page.things()).toEqual(things())
  // The kiosk goes on by the tail from there.
  await say('FinishCoat', { panels: [DOOR] })
  await page.follows()
  expect(page.things()).toEqual(things())
  expect(page.asked()).toBe(2)
})

test('what begins a thing, or is about one that is there, is folded without asking again', async () => {
  const { shop, say, things } = await tidyShop()
  const page = await kiosk(shop)
  await say('OpenJob', { job: 'DDRJAB22', title: 'A door by itself' })
  await say('AddPanel', {
    job: 'DDRJAB22',
    panel: 'FRWNG222',
    name: 'Front wing',
    operation: 'repair',
    route: [{ stage: 'base', sheet: 'base-solvent' }],
  })
  await say('MixCup', { cup: 'NEWC2222', sheet: 'base-solvent', totalMl: 300 })
  await say('PourCup', { cup: 'PRED2222', from: [{ cup: 'NEWC2222', ml: 100 }] })
  await say('StartCoat', { panels: [DOOR], cup: CUP })
  await say('FinishCoat', { panels: [DOOR] })
  await page.follows()
  expect(page.things()).toEqual(things())
  expect(page.asked()).toBe(1)
})

test('a kiosk that follows what the log does not have says so until it is dismissed, and follows on', async () => {
  const { shop, say, things } = await tidyShop()
  let opened = 0
  const page = await kiosk(shop, (after) => {
    opened += 1
    return tailOf(shop, opened === 1 ? '99:01234567' : after)
  })
  await expect.poll(() => opened).toBe(2)
  const { head } = shop.shops.ownWriter.state()
  expect(page.link.reset.value).toMatchObject({
    code: 'unknownTail',
    params: { unknown: '99:01234567', head },
  })
  await expect.poll(() => page.link.is.value).toBe('live')
  await say('AddNote', { job: VAN, text: 'two nibs in the door' })
  await page.follows()
  expect(page.things()).toEqual(things())
  expect(page.link.reset.value).not.toBeNull()
  page.link.dismissReset()
  expect(page.link.reset.value).toBeNull()
})

test('what a log lacks is read also as servers of an earlier build say it', () => {
  const known = { head: 7, knownHead: 10, knownHash: 'ab', knownAtMs: 1 }
  expect(lossIn({ is: 'short', ...known })).toEqual({ kind: 'short', ...known })
  expect(lossIn({ kind: 'other', ...known })).toEqual({ kind: 'other', ...known })
  expect(lossIn(null)).toBeNull()
})

/** A page that has just been loaded; the server answers when it is let, and the device knows a shop. */
async function loadedPage() {
  const { shop, say } = await tidyShop()
  const known = shop.shops.ownWriter.state()
  await say('PauseJob', { job: VAN })
  let answer = (_isThere: boolean) => {}
  const answered = new Promise<boolean>((done) => {
    answer = done
  })
  const waits = new Map<number, () => void>()
  let looked = 0
  const link = linked(shop, {
    fetch: async (path, init) => {
      if (!(await answered)) throw new Error('no server')
      return await shop.app.request(path, init)
    },
    wait: (ms) => new Promise((done) => waits.set(ms, done)),
    kept: async () => {
      looked += 1
      return known
    },
  })
  const isPaused = () => link.state.value?.things.job[VAN]?.value === 'paused'
  return {
    link,
    known,
    answer,
    isPaused,
    looked: () => looked,
    late: () => waits.get(SHOW_KEPT_AFTER_MS)?.(),
  }
}

test('a page whose server does not answer soon shows what its device knew, rings for nothing of it, and takes the answer', async () => {
  const { link, known, answer, isPaused, late } = await loadedPage()
  expect(link.state.value).toBeNull()
  late()
  await expect.poll(() => link.state.value).toEqual(known)
  expect([link.is.value, link.isAsking.value, isPaused()]).toEqual(['connecting', true, false])
  answer(true)
  await expect.poll(() => link.is.value).toBe('live')
  expect([link.isAsking.value, isPaused()]).toEqual([false, true])
})

test('a page whose server turns out to be away rings by what its device knew', async () => {
  const { link, known, answer, late } = await loadedPage()
  late()
  await expect.poll(() => link.state.value).toEqual(known)
  answer(false)
  await expect.poll(() => link.is.value).toBe('away')
  expect([link.isAsking.value, link.state.value]).toEqual([false, known])
})

test('a page whose server answers in time never looks at what its device knew', async () => {
  const { link, answer, isPaused, looked, late } = await loadedPage()
  answer(true)
  await expect.poll(() => link.is.value).toBe('live')
  late()
  await Promise.resolve()
  expect([looked(), isPaused()]).toEqual([0, true])
})
