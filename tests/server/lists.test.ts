import { expect, test } from 'vitest'
import { PROTOCOL } from '../../machines/contract/lifts.ts'
import { memoryStore } from '../../server/log/memory.ts'
import { failingStore } from '../support/logStores.ts'
import { command, JOB, vanInWork } from '../support/serverCommands.ts'
import { MINUTE, openTestShop, START_MS } from '../support/serverShop.ts'

/** Lists of commands: a kiosk that comes back with a day's presses does not hold up the others. */

const COMMANDS = '/api/commands'

/** Readings of the past day, as a kiosk kept them while its server was away. */
const readings = (count: number, more: object = {}) =>
  Array.from({ length: count }, (_, n) => ({
    ...command(`r-${n}`, 'ReadClimate', { zone: 'booth', airC: 20 + (n % 5), rh: 0.5 }),
    ...{ at: START_MS - n * 2 * MINUTE, enteredAt: START_MS - n * 2 * MINUTE },
    ...more,
  }))

test('a list of over a hundred is refused whole, with how many there may be', async () => {
  const { post, shops } = await openTestShop()
  const { head } = shops.ownWriter.state()
  expect(await post(COMMANDS, readings(101, { protocol: PROTOCOL }))).toMatchObject({
    status: 400,
    body: { error: { code: 'listTooLong', field: 'body', params: { most: 100, count: 101 } } },
  })
  expect(shops.ownWriter.state().head).toBe(head)
  const { status, body } = await post(COMMANDS, readings(100, { protocol: PROTOCOL }))
  expect(status).toBe(200)
  expect(body).toHaveLength(100)
})

test('a kiosk of the first protocol may send four thousand, and not one more', async () => {
  const { post } = await openTestShop()
  const same = Array.from({ length: 4_001 }, () => readings(1)[0])
  expect((await post(COMMANDS, same)).status).toBe(400)
  // The same reading again and again: its first answer each time.
  const { status, body } = await post(COMMANDS, same.slice(1))
  expect(status).toBe(200)
  expect(body).toHaveLength(4_000)
})

test('what another kiosk presses meanwhile is answered between the pages of a long list', async () => {
  const { post, shops } = await openTestShop()
  await post(COMMANDS, vanInWork)
  const list = post(COMMANDS, readings(400))
  await new Promise((soon) => setImmediate(soon))
  const press = post(COMMANDS, command('note', 'AddNote', { job: JOB, text: 'dust on the hood' }))
  expect(await Promise.race([list.then(() => 'list'), press.then(() => 'press')])).toBe('press')
  expect((await press).status).toBe(200)
  const { body } = await list
  expect((body as { status: number }[]).every(({ status }) => status === 200)).toBe(true)
  expect(shops.ownWriter.state().head).toBeGreaterThan(400)
})

test('behind presses that the disk did not take, none of the list is stored before them', async () => {
  const { store, failNextAppend } = failingStore(memoryStore())
  const { post, shops } = await openTestShop({ store })
  await post(COMMANDS, vanInWork)
  const { head } = shops.ownWriter.state()
  failNextAppend()
  const notes = Array.from({ length: 40 }, (_, n) =>
    command(`n-${n}`, 'AddNote', { job: JOB, text: `note ${n}` }),
  )
  const { body } = await post(COMMANDS, notes)
  const answers = body as { status: number; body: { error: { code: string } } }[]
  expect(answers.map(({ status }) => status)).toEqual(notes.map(() => 503))
  expect(answers.at(-1)?.body.error.code).toBe('notStored')
  expect(shops.ownWriter.state().head).toBe(head)
})
