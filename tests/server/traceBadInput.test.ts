import { expect, test } from 'vitest'
import type { TraceAnswer } from '../../machines/contract.ts'
import type { Notice } from '../../machines/trace/notices.ts'
import { traceRoutes } from '../../server/routes/trace.ts'
import { command } from '../support/serverCommands.ts'
import { MINUTE, openTestShop, type TestShop } from '../support/serverShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { CLEAR_CUP, DOOR, JOB, must, SILL, sprayed } from '../support/sprayedVan.ts'

/** Jobs that were recorded badly, asked for over HTTP: each is told as it is, and says what it lacks. */

const DAY = 24 * 60 * MINUTE
const ask = async (shop: TestShop, query = '') => {
  const { status, body } = await shop.get(`/api/jobs/${JOB}/trace${query}`)
  expect(status).toBe(200)
  return body as TraceAnswer
}
const noticed = ({ notices }: TraceAnswer, is: Notice['is']) =>
  notices.filter((notice) => notice.is === is)

/** A van whose only panel was sprayed with base, and nobody read the air. */
async function baseOnly(): Promise<TestShop> {
  const shop = await openTestShop({ more: [traceRoutes] })
  for (const sheet of [BASE, CLEAR]) await must(shop, 'SaveSheet', { sheet })
  await must(shop, 'OpenJob', { job: JOB, title: 'Delivery van' })
  await must(shop, 'AddPanel', {
    ...{ job: JOB, panel: DOOR, name: 'Door', operation: 'repair', areaM2: 1 },
    route: [
      { stage: 'base', sheet: BASE.sheet },
      { stage: 'clear', sheet: CLEAR.sheet },
    ],
  })
  await must(shop, 'MixCup', { cup: 'BSBS2222', sheet: BASE.sheet, totalMl: 300, job: JOB })
  for (const wait of [1, 12]) {
    shop.clock.advance(wait * MINUTE)
    await must(shop, 'StartCoat', { panels: [DOOR], cup: 'BSBS2222' })
    shop.clock.advance(2 * MINUTE)
    await must(shop, 'FinishCoat', { panels: [DOOR] })
  }
  return shop
}

test('no readings: it says so, and nothing is said of the air', async () => {
  const shop = await baseOnly()
  const told = await ask(shop, `?defect=blushing&panel=${DOOR}`)
  expect(noticed(told, 'noAir')).toHaveLength(1)
  const humid = told.verdict?.causes.find(({ id }) => id === 'humid')
  expect(humid).toMatchObject({ verdict: 'notRecorded', speaksFor: [], against: [] })
  expect(told.verdict?.decides).toBe(false)
})

test('a panel that was never cleared: which it is, and which layer of the defect it has not', async () => {
  const told = await ask(await baseOnly(), `?defect=dieback&panel=${DOOR}`)
  expect(noticed(told, 'neverCleared')).toEqual([{ is: 'neverCleared', panels: ['Door'] }])
  expect(told.verdict?.missingLayers).toContain('clear')
})

test('a clock that was set: when, and by how much', async () => {
  const shop = await sprayed([traceRoutes])
  const now = shop.clock.now()
  await must(shop, 'ReportClockJump', { fromMs: now, toMs: now - 40 * MINUTE })
  await must(shop, 'AddNote', { job: JOB, text: 'The clock was wrong' })
  const [set] = noticed(await ask(shop), 'clockSet')
  expect(set).toEqual({ is: 'clockSet', at: now, byMs: -40 * MINUTE })
})

test('entries three days late are told with the others, and how late they were', async () => {
  const shop = await sprayed([traceRoutes])
  const at = shop.clock.now() + 12 * MINUTE
  shop.clock.advance(3 * DAY)
  const late = { at, enteredAt: at }
  await must(shop, 'StartCoat', { panels: [SILL], cup: CLEAR_CUP }, late)
  await must(shop, 'FinishCoat', { panels: [SILL] }, { at: at + MINUTE, enteredAt: at + MINUTE })
  const told = await ask(shop)
  const [notice] = noticed(told, 'toldLate')
  expect(notice).toMatchObject({ entries: 2, mostMs: 3 * DAY - 12 * MINUTE })
  const started = told.entries.filter(({ type, panel }) => type === 'CoatStarted' && panel === SILL)
  expect(started.at(-1)?.at).toBe(at)
})

test('a coat in the middle that was taken back: it caused nothing, and is listed', async () => {
  const shop = await sprayed([traceRoutes])
  const { entries } = await ask(shop)
  const of = (type: string) => entries.findLast((e) => e.type === type && e.panel === DOOR)?.id
  for (const entry of [of('CoatFinished'), of('CoatStarted')])
    await must(shop, 'VoidEntry', { entry, reason: 'WRONG_PART' })
  const told = await ask(shop, `?defect=solventPop&panel=${DOOR}`)
  expect(noticed(told, 'takenBack')).toEqual([{ is: 'takenBack', entries: 2 }])
  const short = told.verdict?.causes.find(({ id }) => id === 'flashShort')
  expect(short?.speaksFor).toEqual([])
  expect(told.deviations.filter(({ kind }) => kind === 'void')).toHaveLength(2)
  expect(told.deviations.find(({ kind }) => kind === 'override')?.isVoided).toBe(true)
})

test('5,000 entries on one job: all of them, and the same verdict', async () => {
  const shop = await sprayed([traceRoutes])
  const query = `?defect=solventPop&panel=${DOOR}`
  const few = await ask(shop, query)
  const notes = Array.from({ length: 5_000 }, (_, i) =>
    shop.shops.ownWriter.handle(command(`n-${i}`, 'AddNote', { job: JOB, text: `Look ${i}` })),
  )
  for (const { status } of await Promise.all(notes)) expect(status).toBe(200)
  const many = await ask(shop, query)
  expect(many.entries.filter(({ type }) => type === 'NoteAdded')).toHaveLength(5_000)
  expect(many.verdict).toEqual(few.verdict)
})
