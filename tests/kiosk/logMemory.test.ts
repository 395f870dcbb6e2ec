import { expect, test } from 'vitest'
import { memoryEntries } from '../../kiosk/commands/entryDb.ts'
import { bookOf } from '../../kiosk/commands/logBook.ts'
import { logMemory } from '../../kiosk/commands/logMemory.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { command, JOB, vanInWork } from '../support/serverCommands.ts'
import { openTestShop, type TestShop } from '../support/serverShop.ts'

/** What a kiosk remembers of a log that was put back to an older copy, while its server does not answer at once. */

const note = (id: string) => command(id, 'AddNote', { job: JOB, text: id })

/** The shop with these notes after the van's first entries: two of them are of one log up to there. */
async function shopWith(...notes: readonly string[]): Promise<TestShop> {
  const store = memoryStore()
  await store.putMeta('shop', 'SHAPSHAP')
  const shop = await openTestShop({ store })
  for (const wish of [...vanInWork, ...notes.map(note)]) {
    const { status } = await shop.shops.ownWriter.handle(wish)
    expect(status).toBe(200)
  }
  return shop
}

/** A kiosk that knows all of a shop's log; then its server is exchanged, and the device may refuse to keep more. */
async function kioskOf(first: TestShop) {
  let shop = first
  let isThere = true
  let keepsGone = true
  let asked = 0
  const waits: (() => void)[] = []
  const entries = memoryEntries()
  const keepGone: typeof entries.keepGone = async (gone) => {
    if (!keepsGone) throw new Error('The disk is full.')
    await entries.keepGone(gone)
  }
  const book = bookOf({ ...entries, keepGone }, async (path, init) => {
    asked += 1
    if (!isThere) throw new Error('no server')
    return await shop.app.request(path, init)
  })
  const memory = logMemory({
    book: async () => book,
    wait: () => new Promise((done) => waits.push(done)),
  })
  const kiosk = {
    memory,
    waits,
    asked: () => asked,
    load: async () => {
      memory.loaded(shop.shops.ownWriter.state())
      await memory.settled()
    },
    /** As an answer to a press brings it. */
    press: async (id: string) => {
      const { body } = await shop.post('/api/commands', note(id))
      for (const entry of (body as { entries: Parameters<typeof memory.seen>[0][] }).entries)
        memory.seen(entry)
      await memory.settled()
    },
    exchange: (other: TestShop) => {
      shop = other
    },
    serverIs: (there: boolean) => {
      isThere = there
    },
    diskFills: () => {
      keepsGone = false
    },
    askAgain: async () => {
      waits.shift()?.()
      await new Promise((done) => setImmediate(done))
      await memory.settled()
    },
    gone: () => memory.gone.value?.entries.map(({ data }) => data.text),
  }
  await kiosk.load()
  expect(kiosk.gone()).toBeUndefined()
  return kiosk
}

test('a server that did not send its entries is asked until it does, and nothing is written over what is known meanwhile', async () => {
  const kiosk = await kioskOf(await shopWith('one', 'two'))
  kiosk.exchange(await shopWith())
  kiosk.serverIs(false)
  await kiosk.load()
  await kiosk.press('three')
  await kiosk.press('four')
  await kiosk.press('five')
  await kiosk.askAgain()
  expect(kiosk.gone()).toBeUndefined()
  kiosk.serverIs(true)
  await kiosk.askAgain()
  expect(kiosk.gone()).toEqual(['one', 'two'])
  expect(kiosk.memory.gone.value).toMatchObject({ knownHead: 10, head: 8 })
  // One at a time is waited for, and none when all is known.
  expect(kiosk.waits).toEqual([])
  await kiosk.memory.dismiss()
  // What was pressed meanwhile is known too.
  kiosk.exchange(await shopWith())
  await kiosk.load()
  expect(kiosk.gone()).toEqual(['three', 'four', 'five'])
})

test('an answer to a press that comes before the log was looked at does not hide the entry that stood in its place', async () => {
  const kiosk = await kioskOf(await shopWith('one'))
  kiosk.exchange(await shopWith())
  await kiosk.press('two')
  expect(kiosk.gone()).toEqual(['one'])
  await kiosk.load()
  expect(kiosk.gone()).toEqual(['one'])
})

test('a device that can keep no more says what is gone, and asks for it once', async () => {
  const kiosk = await kioskOf(await shopWith('one', 'two'))
  kiosk.exchange(await shopWith())
  kiosk.diskFills()
  await kiosk.load()
  const asked = kiosk.asked()
  expect(kiosk.gone()).toEqual(['one', 'two'])
  await kiosk.press('three')
  expect(kiosk.gone()).toEqual(['one', 'two'])
  expect([kiosk.waits, kiosk.asked() - asked < 6]).toEqual([[], true])
})

test('a log that grows as it did is not asked for at every entry', async () => {
  const kiosk = await kioskOf(await shopWith('one'))
  const asked = kiosk.asked()
  await kiosk.press('two')
  await kiosk.press('three')
  expect([kiosk.asked(), kiosk.gone(), kiosk.waits]).toEqual([asked, undefined, []])
})
