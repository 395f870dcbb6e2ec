import { signal } from '@preact/signals'
import { expect, test } from 'vitest'
import { keepLocalCopy } from '../../kiosk/commands/copy.ts'
import { memoryOutboxDb, type OutboxDb } from '../../kiosk/commands/outboxDb.ts'
import { queuedIn } from '../../kiosk/commands/queuedCommand.ts'
import { emptyState, type State } from '../../machines/state.ts'
import { outboxShop } from './outboxShop.ts'

/** What a kiosk keeps on its device, and what it says and does where the device refuses. */

const JOB = 'VANREAR2'

/** A device's store that lasts, and that can be set to refuse to write a press. */
function refusingBox() {
  const inner = memoryOutboxDb()
  let isFull = false
  let held: Promise<void> = Promise.resolve()
  let release = () => {}
  const db: OutboxDb = {
    ...inner,
    lasts: true,
    async add(queued, picture) {
      await held
      if (isFull) throw new DOMException('The quota was exceeded.', 'QuotaExceededError')
      return await inner.add(queued, picture)
    },
  }
  return {
    db,
    /** The disk takes its time until it is released. */
    hold: () => {
      held = new Promise((done) => {
        release = done
      })
    },
    release: () => release(),
    fill: (full = true) => {
      isFull = full
    },
  }
}

async function kiosk() {
  const shop = await outboxShop()
  await shop.given('OpenJob', { job: JOB, title: 'Delivery van' })
  const store = refusingBox()
  const page = shop.page(store.db)
  await expect.poll(() => page.out.storage.value).toBeNull()
  const notes = async () =>
    (await shop.log()).flatMap((e) => (e.type === 'NoteAdded' ? [e.data.text] : []))
  const note = (text: string) => page.out.send('AddNote', { job: JOB, text })
  return { shop, page, ...store, note, notes }
}

test('a press is shown as taken only once it is in the device store', async () => {
  const { page, db, hold, release, note } = await kiosk()
  page.away()
  hold()
  let isShown = false
  const sent = note('two nibs').finally(() => {
    isShown = true
  })
  for (let turn = 0; turn < 20; turn += 1) await new Promise((done) => setImmediate(done))
  expect([isShown, page.out.queue.value, await db.all()]).toEqual([false, [], []])
  release()
  expect(await sent).toMatchObject({ kind: 'queued' })
  expect(await db.all()).toHaveLength(1)
})

test('a store that refuses to write is said, and the press goes straight to the server', async () => {
  const { page, fill, note, notes } = await kiosk()
  fill()
  expect(await note('two nibs')).toMatchObject({ kind: 'kept' })
  expect(await notes()).toEqual(['two nibs'])
  expect(page.out.storage.value).toBe('refuses')
  expect(page.out.queue.value).toEqual([])
})

test('a press that neither the store nor the server takes is not shown as taken', async () => {
  const { page, fill, note, notes } = await kiosk()
  fill()
  page.away()
  expect(await note('two nibs')).toMatchObject({ kind: 'away', isFull: true })
  expect(page.out.queue.value).toEqual([])
  // Pressed again once the server is back: nothing is recorded twice.
  await page.back()
  expect(await note('two nibs')).toMatchObject({ kind: 'kept' })
  expect(await notes()).toEqual(['two nibs'])
})

test('what waits goes before a press that could not be kept, and a store that writes again says nothing', async () => {
  const { shop, page, fill, note, notes } = await kiosk()
  page.away()
  expect(await note('first')).toMatchObject({ kind: 'queued' })
  fill()
  shop.line.state = 'up'
  page.link.value = 'live'
  expect(await note('second')).toMatchObject({ kind: 'kept' })
  expect(await notes()).toEqual(['first', 'second'])
  fill(false)
  expect(await note('third')).toMatchObject({ kind: 'kept' })
  expect(page.out.storage.value).toBeNull()
})

test('a refusal of the server reaches the press that could not be kept', async () => {
  const { page, fill } = await kiosk()
  fill()
  const sent = await page.out.send('PauseJob', { job: 'NABADY22' })
  expect(sent).toMatchObject({ kind: 'refused', refusal: { code: 'unknownThing' } })
})

test('a browser that stores nothing is said from the start', async () => {
  const shop = await outboxShop()
  const page = shop.page(memoryOutboxDb())
  await expect.poll(() => page.out.storage.value).toBe('endsWithPage')
})

/** A copy of a shop, and its writes; time passes when the test says so. */
function copy(keep: (state: State) => Promise<void> = async () => {}) {
  const state = signal<State | null>(null)
  const written: number[] = []
  const rests: (() => void)[] = []
  let leave = () => {}
  const stop = keepLocalCopy(state, {
    keep: async (one) => {
      written.push(one.head)
      await keep(one)
    },
    wait: () => new Promise((done) => rests.push(done)),
    leaving: (write) => {
      leave = write
      return () => {
        leave = () => {}
      }
    },
  })
  const at = (head: number) => {
    state.value = { ...emptyState('SHAPSHAP', ''), head }
  }
  const turn = () => new Promise((done) => setImmediate(done))
  return { at, written, turn, stop, leave: () => leave(), rest: () => rests.shift()?.() }
}

test('the copy of the shop is written at once, then seldom, and always the newest', async () => {
  const { at, written, turn, rest } = copy()
  for (const head of [1, 2, 3, 4]) {
    at(head)
    await turn()
  }
  expect(written).toEqual([1])
  rest()
  await turn()
  expect(written).toEqual([1, 4])
  rest()
  await turn()
  expect(written).toEqual([1, 4])
  at(5)
  await turn()
  expect(written).toEqual([1, 4, 5])
})

test('a page that is left writes what is newest before the next turn would come', async () => {
  const { at, written, turn, leave, stop } = copy()
  at(1)
  await turn()
  at(2)
  leave()
  await turn()
  expect(written).toEqual([1, 2])
  at(3)
  stop()
  leave()
  await turn()
  expect(written).toEqual([1, 2])
})

test('a copy that the device refuses to write ends nothing: the next one is tried', async () => {
  const { at, written, turn, rest } = copy(() => Promise.reject(new Error('The disk is full.')))
  at(1)
  await turn()
  at(2)
  rest()
  await turn()
  expect(written).toEqual([1, 2])
})

test('what a kiosk kept under an earlier build keeps its reason, refused or wrong', () => {
  const command = { id: 'c-1', type: 'AddNote' as const, data: { job: JOB, text: 'two nibs' } }
  const kept = { seq: 3, command: { ...command, enteredAt: 1, clockOffsetMs: 0 }, inDoubt: false }
  const params = { limit: null, value: JOB, about: 'Delivery van' }
  const refusal = {
    ...{ code: 'closed' as const, params, also: [], overridable: false },
    problems: [{ code: 'closed' as const, params }],
  }
  const error = { code: 'text', field: 'data.text', params: { max: 500 } }
  expect(queuedIn({ ...kept, trouble: { is: 'refused', refusal } })).toEqual({
    ...kept,
    trouble: { kind: 'refused', refusal },
  })
  expect(queuedIn({ ...kept, trouble: { is: 'wrong', error } })).toEqual({
    ...kept,
    trouble: { kind: 'wrong', error },
  })
  for (const trouble of [null, { kind: 'wrong' as const, error }])
    expect(queuedIn({ ...kept, trouble })).toEqual({ ...kept, trouble })
})
