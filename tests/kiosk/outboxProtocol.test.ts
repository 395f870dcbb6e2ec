import { describe, expect, test } from 'vitest'
import { memoryOutboxDb } from '../../kiosk/commands/outboxDb.ts'
import type { Pressed } from '../../kiosk/commands/queuedCommand.ts'
import { troubleText } from '../../kiosk/commands/refusalText.ts'
import { formatOf } from '../../kiosk/units/format.ts'
import { es } from '../../kiosk/words/all.es.ts'
import { en } from '../../kiosk/words/all.ts'
import { PROTOCOL } from '../../machines/contract.ts'
import { contextOf } from '../../machines/state.ts'
import { MINUTE } from '../support/serverShop.ts'
import { outboxShop } from './outboxShop.ts'

/** A kiosk and a server of different builds: nothing that was pressed is lost or holds up the rest. */

const JOB = 'VANREAR2'
const DOOR = 'DRREAR22'

async function van() {
  const shop = await outboxShop()
  await shop.given('OpenJob', { job: JOB, title: 'Delivery van' })
  const page = shop.page()
  const notes = async () =>
    (await shop.log()).flatMap((e) => (e.type === 'NoteAdded' ? [e.data.text] : []))
  const note = (text: string) => page.out.send('AddNote', { job: JOB, text })
  return { shop, page, note, notes }
}

test('what an older kiosk kept is taken by a newer server as it was meant', async () => {
  const shop = await outboxShop()
  await shop.given('OpenJob', { job: JOB, title: 'Delivery van' })
  const db = memoryOutboxDb()
  const enteredAt = shop.server.clock.now()
  // As a build of the first protocol wrote it: it names none, and the planned coats are a number.
  const command: Pressed = {
    ...{ id: 'old-1', type: 'AddPanel', source: 'touch', enteredAt, clockOffsetMs: 0 },
    data: {
      ...{ job: JOB, panel: DOOR, name: 'Rear door', operation: 'new-part' },
      route: [{ stage: 'base', coats: 4, face: 'whole' }],
    },
  }
  await db.add({ command, inDoubt: false, trouble: null })
  shop.server.clock.advance(MINUTE)
  const page = shop.page(db)
  await page.out.flush()
  expect(await db.all()).toEqual([])
  expect(contextOf(shop.state(), 'panel', DOOR)?.route).toMatchObject([{ coats: { planned: 4 } }])
})

describe('before a server that is older', () => {
  test('a press that it does not know stays on the device, and those behind it go', async () => {
    const { shop, page, note, notes } = await van()
    shop.line.ahead = 1
    const sent = await note('one')
    expect(sent).toMatchObject({ kind: 'notKnown', error: { code: 'newestProtocol' } })
    shop.line.ahead = 0
    expect(await note('two')).toMatchObject({ kind: 'kept' })
    expect(await notes()).toEqual(['two'])
    await page.out.flush()
    expect(page.out.queue.value).toMatchObject([
      { command: { data: { text: 'one' } }, trouble: { kind: 'notKnown' } },
    ])
    // A page that is loaded again finds it, and asks once: the server knows it now.
    const again = shop.page(page.db)
    await again.out.flush()
    expect(await notes()).toEqual(['two', 'one'])
    expect(await page.db.all()).toEqual([])
  })

  test('one among many that waited does not hold up the others', async () => {
    const { shop, page, note, notes } = await van()
    page.away()
    for (const text of ['one', 'two', 'three']) await note(text)
    const all = await page.db.all()
    const middle = all[1]
    if (!middle) throw new Error('nothing was kept')
    await page.db.put({ ...middle, command: { ...middle.command, protocol: PROTOCOL + 1 } })
    await page.back()
    expect(await notes()).toEqual(['one', 'three'])
    expect(page.out.queue.value).toMatchObject([{ seq: middle.seq, trouble: { kind: 'notKnown' } }])
    expect(page.notTaken).toHaveLength(1)
    // Asked again by a page that is loaded later, without a sound: it is known already.
    const again = shop.page(page.db)
    await again.out.flush()
    expect(again.out.queue.value).toMatchObject([{ trouble: { kind: 'notKnown' } }])
    expect(again.notTaken).toEqual([])
    const [left] = again.out.queue.value
    if (left) await again.out.discard(left)
    expect(await page.db.all()).toEqual([])
  })

  test.each([
    ['a type', { type: 'SendDrone' }],
    ['a field of its data', { data: { job: JOB, text: 'one', mood: 'fine' } }],
    ['a field beside its data', { mood: 'fine' }],
  ])('%s that it does not know keeps the command as well', async (_what, more) => {
    const { page, note } = await van()
    page.away()
    await note('one')
    const [kept] = await page.db.all()
    if (!kept) throw new Error('nothing was kept')
    await page.db.put({ ...kept, command: { ...kept.command, ...(more as Partial<Pressed>) } })
    await page.back()
    expect(page.out.queue.value).toMatchObject([{ trouble: { kind: 'notKnown' } }])
  })

  test('what it does not know is given out as it would be sent', async () => {
    const { shop, page, note, notes } = await van()
    shop.line.ahead = 1
    await note('one')
    await note('two')
    await page.out.flush()
    expect(page.out.notKnown.value).toHaveLength(2)
    expect(page.out.notKnown.value[0]).toMatchObject({ device: page.db.device, seq: 1 })
    // Sent by hand, as a file is, once the server is updated; the kiosk that asks again adds nothing.
    const answer = await shop.server.post('/api/commands', page.out.notKnown.value)
    expect(answer.body).toMatchObject([{ status: 200 }, { status: 200 }])
    shop.line.ahead = 0
    await shop.page(page.db).out.flush()
    expect(await notes()).toEqual(['one', 'two'])
    expect(await page.db.all()).toEqual([])
  })

  test('it is said in words of the shop what to do', () => {
    const error = {
      ...{ code: 'newestProtocol', field: 'protocol' },
      params: { protocol: PROTOCOL, given: `${PROTOCOL + 1}` },
    }
    const seen = { format: formatOf({}), state: null, now: 0 }
    const trouble = { kind: 'notKnown' as const, error }
    expect(troubleText(trouble, { ...seen, words: en })).toMatch(
      /^The server does not know this command yet\. Update the server, then press TRY AGAIN\.$/,
    )
    expect(troubleText(trouble, { ...seen, words: es })).toMatch(/^El servidor aún no conoce/)
  })
})

test('a batch that no server can read as a whole goes command by command', async () => {
  const { page, note, notes } = await van()
  page.away()
  for (const text of ['one', 'two', 'three']) await note(text)
  const [, middle] = await page.db.all()
  if (!middle) throw new Error('nothing was kept')
  // Deeper than a body may be.
  let deep: object = {}
  for (let i = 0; i < 100; i += 1) deep = { deep }
  await page.db.put({ ...middle, command: { ...middle.command, data: deep } })
  await page.back()
  expect(await notes()).toEqual(['one', 'three'])
  expect(page.out.queue.value).toMatchObject([{ seq: middle.seq, trouble: { kind: 'wrong' } }])
})
