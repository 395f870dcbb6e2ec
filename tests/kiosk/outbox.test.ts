import { describe, expect, test } from 'vitest'
import { objection, provisional } from '../../kiosk/commands/provisional.ts'
import { troubleText } from '../../kiosk/commands/refusalText.ts'
import { isTaken } from '../../kiosk/commands/send.ts'
import { lanesOf } from '../../kiosk/lanes/lanes.ts'
import { formatOf } from '../../kiosk/units/format.ts'
import { en } from '../../kiosk/words/all.ts'
import { deadlines } from '../../machines/deadlines.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { CLEAR } from '../support/sheets.ts'
import { outboxShop } from './outboxShop.ts'

const JOB = 'VANREAR2'
const DOOR = 'SDEDR222'
const WING = 'FRWNG222'
const CUP = 'K7QDM2XV'
const MINUTE = 60_000

/** An invented van with two panels that wait for clear, and a cup of it. */
async function van() {
  const shop = await outboxShop()
  const route = [{ stage: 'clear', sheet: CLEAR.sheet }]
  await shop.given('SaveSheet', { sheet: CLEAR })
  await shop.given('OpenJob', { job: JOB, title: 'Delivery van' })
  for (const [panel, name] of [
    [DOOR, 'Sliding door'],
    [WING, 'Front wing'],
  ])
    await shop.given('AddPanel', { job: JOB, panel, name, operation: 'repair', areaM2: 1, route })
  await shop.given('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 600, activator: 'standard' })
  const page = shop.page()
  const waits = (panel: string) => {
    const state = page.out.state.value
    const lane = state && lanesOf(state, shop.server.clock.now()).find((l) => l.panel === panel)
    return lane?.waits.for
  }
  return { shop, page, waits }
}

const start = { panels: [DOOR], cup: CUP }
const finish = { panels: [DOOR] }

describe('with its server', () => {
  test('a press goes at once, by itself, with the device, its count and the time of the press', async () => {
    const { shop, page } = await van()
    const sent = await page.out.send('StartCoat', start)
    expect(sent.kind).toBe('kept')
    expect(shop.received.at(-1)).toMatchObject({
      type: 'StartCoat',
      device: page.db.device,
      seq: 1,
      enteredAt: shop.server.clock.now(),
      clockOffsetMs: 250,
    })
    expect(await page.db.all()).toEqual([])
    expect(page.out.queue.value).toEqual([])
  })

  test('a refusal is answered and not kept: its painter has seen it', async () => {
    const { shop, page } = await van()
    await page.out.send('StartCoat', start)
    await page.out.send('FinishCoat', finish)
    page.follow()
    shop.server.clock.advance(MINUTE)
    const sent = await page.out.send('StartCoat', start)
    expect(sent).toMatchObject({ kind: 'refused', refusal: { code: 'flashNotOver' } })
    expect(await page.db.all()).toEqual([])
    expect(page.notTaken).toEqual([])
  })
})

describe('without its server', () => {
  test('where the rules could not be fetched a press is still kept, and shown once they are here', async () => {
    const { shop } = await van()
    let isHere = false
    const rules = async () => {
      if (!isHere) throw new TypeError('Nobody hands out the file.')
      return { objection, provisional }
    }
    const page = shop.page(undefined, undefined, rules)
    const isOpen = () => contextOf(page.out.state.value as State, 'panel', DOOR)?.open != null
    page.away()
    expect(await page.out.send('StartCoat', start)).toMatchObject({ kind: 'queued' })
    expect([page.out.queue.value.length, isOpen()]).toEqual([1, false])
    isHere = true
    expect(await page.out.send('StartCoat', { panels: [WING], cup: CUP })).toMatchObject({
      kind: 'queued',
    })
    expect(isOpen()).toBe(true)
    expect(await page.db.all()).toHaveLength(2)
  })

  test('what is pressed is kept, shown as done, and sent once, in order, as an array', async () => {
    const { shop, page, waits } = await van()
    page.away()
    expect(await page.out.send('StartCoat', start)).toMatchObject({ kind: 'queued' })
    expect(waits(DOOR)).toBe('spraying')
    shop.server.clock.advance(3 * MINUTE)
    expect(isTaken(await page.out.send('FinishCoat', finish))).toBe(true)
    expect(waits(DOOR)).toBe('flash')
    expect(page.out.queue.value.map((k) => k.command.type)).toEqual(['StartCoat', 'FinishCoat'])
    expect(shop.received.filter((body) => Array.isArray(body))).toEqual([])

    shop.server.clock.advance(2 * MINUTE)
    await page.back()
    const [array, ...more] = shop.received.filter((body) => Array.isArray(body))
    expect(more).toEqual([])
    expect(array).toMatchObject([
      { type: 'StartCoat', seq: 1 },
      { type: 'FinishCoat', seq: 2 },
    ])
    expect(page.out.queue.value).toEqual([])
    const own = (await shop.log()).filter((entry) => entry.device === page.db.device)
    expect(own.map(({ type, seq }) => [type, seq])).toEqual([
      ['CoatStarted', 1],
      ['CoatFinished', 2],
    ])
    // When it was pressed, not when it arrived.
    expect((own[1]?.at ?? 0) - (own[0]?.at ?? 0)).toBe(3 * MINUTE)
  })

  test('the Wall does not fall back between the answer and the tail', async () => {
    const { page, waits } = await van()
    page.away()
    await page.out.send('StartCoat', start)
    // The tail has brought nothing yet: what the answer brought is shown.
    page.link.value = 'connecting'
    await page.back()
    expect(page.out.queue.value).toEqual([])
    expect(waits(DOOR)).toBe('spraying')
    page.follow()
    expect(waits(DOOR)).toBe('spraying')
    expect(page.out.state.value).toBe(page.confirmed.value)
  })

  test('what the rules refuse is refused at once, with the same sentence and when it clears', async () => {
    const { shop, page } = await van()
    page.away()
    await page.out.send('StartCoat', start)
    await page.out.send('FinishCoat', finish)
    shop.server.clock.advance(MINUTE)
    const sent = await page.out.send('StartCoat', start)
    expect(sent).toMatchObject({ kind: 'refused', refusal: { code: 'flashNotOver' } })
    expect(sent.kind === 'refused' && sent.refusal.clearsAt).toBe(
      shop.server.clock.now() + 9 * MINUTE,
    )
    expect(page.out.queue.value).toHaveLength(2)
    // A reason lets it go on, here as there.
    const override = { reason: 'BREAK' }
    expect(isTaken(await page.out.send('StartCoat', { ...start, override }))).toBe(true)
  })

  test('a cup that only the server may know is not refused here: the server will say', async () => {
    const { shop, page } = await van()
    page.away()
    await shop.given('MixCup', { cup: 'NEWC2222', sheet: CLEAR.sheet, totalMl: 300 })
    const sent = await page.out.send('StartCoat', { panels: [DOOR], cup: 'NEWC2222' })
    expect(sent.kind).toBe('queued')
    shop.server.clock.advance(MINUTE)
    await page.back()
    expect(page.out.queue.value).toEqual([])
    expect(shop.state().things.panel[DOOR]?.entries.at(-1)).not.toHaveProperty('outside')
  })

  test('what is refused in the end is kept with its reason, through a reload, until a person settles it', async () => {
    const { shop, page } = await van()
    page.away()
    await page.out.send('AddNote', { job: JOB, text: 'two nibs' })
    await page.out.send('PassPanel', { panel: WING, override: { reason: 'BREAK' } })
    await shop.given('RemovePanel', { panel: WING })
    shop.server.clock.advance(MINUTE)
    await page.back()
    const [left, ...more] = page.out.queue.value
    expect(more).toEqual([])
    expect(left).toMatchObject({ command: { type: 'PassPanel' }, trouble: { kind: 'refused' } })
    expect(left?.trouble?.kind === 'refused' && left.trouble.refusal.message).toMatch(/\w/)
    expect(page.notTaken).toHaveLength(1)

    const again = shop.page(page.db)
    await again.out.flush()
    expect(again.out.queue.value).toEqual([left])
    // Trying again changes nothing while the reason is there; discarding does.
    if (left) await again.out.tryAgain(left)
    expect(again.out.queue.value).toMatchObject([{ trouble: { kind: 'refused' } }])
    if (left) await again.out.discard(left)
    expect(again.out.queue.value).toEqual([])
    expect(await page.db.all()).toEqual([])
  })

  test('a bell that nothing waits for any more needs no answer from a person', async () => {
    const { shop, page } = await van()
    await page.out.send('StartCoat', start)
    await page.out.send('FinishCoat', finish)
    page.follow()
    shop.server.clock.advance(11 * MINUTE)
    page.away()
    const bell = deadlines(shop.state()).find((d) => d.bell === 'coatReady')
    expect((await page.out.send('RingBell', { key: bell?.key ?? '' })).kind).toBe('queued')
    // Another kiosk, which has its server, starts the next coat before this one is back.
    await shop.given('StartCoat', start)
    shop.server.clock.advance(MINUTE)
    await page.back()
    expect(page.out.queue.value).toEqual([])
    expect(page.notTaken).toEqual([])
  })
})

test('after the shop began anew a device’s own report is let go, and a press says when it was', async () => {
  const { shop, page } = await van()
  page.away()
  const { reading } = shop
  // This kiosk was not told: its clock is that of before, two hours on.
  shop.time.read = () => ({ ...reading(), nowMs: reading().nowMs + 120 * MINUTE })
  await page.out.send('ReportSleep', { why: 'lost' })
  await page.out.send('AddNote', { job: JOB, text: 'two nibs' })
  await page.back()
  expect(page.notTaken).toHaveLength(1)
  const [left, ...more] = page.out.queue.value
  expect(more).toEqual([])
  expect(left).toMatchObject({ command: { type: 'AddNote' }, trouble: { kind: 'wrong' } })
  const now = shop.server.clock.now()
  const format = formatOf({})
  const at = (ms: number) => `${format.date(ms, 0)} ${format.time(ms)}`
  expect(left?.trouble && troubleText(left.trouble, { words: en, format, state: null, now })).toBe(
    `Time of the press: ${at(now + 120 * MINUTE)} won't work. Use a time no later than now (${at(now)}).`,
  )
})

describe('a line that breaks', () => {
  test('a command whose answer was lost is sent again and counted once', async () => {
    const { shop, page, waits } = await van()
    shop.line.state = 'answerLost'
    const sent = await page.out.send('StartCoat', start)
    expect(sent.kind).toBe('queued')
    expect(shop.waits()).toBe(1)
    // It is in the log and waits here too: shown once.
    page.follow()
    expect(waits(DOOR)).toBe('spraying')
    expect(page.out.state.value?.things.panel[DOOR]).toEqual(shop.state().things.panel[DOOR])
    await page.back()
    expect(page.out.queue.value).toEqual([])
    expect((await shop.log()).filter(({ type }) => type === 'CoatStarted')).toHaveLength(1)
    const [first, second] = shop.received.slice(-2)
    expect(second).toEqual(first)
  })

  test('a server that cannot store answers 503: the command waits', async () => {
    const { shop, page } = await van()
    shop.failNextAppend()
    expect((await page.out.send('StartCoat', start)).kind).toBe('queued')
    expect(page.out.queue.value).toHaveLength(1)
    await page.out.flush()
    expect(page.out.queue.value).toEqual([])
    expect((await shop.log()).filter(({ type }) => type === 'CoatStarted')).toHaveLength(1)
  })

  test('two pages of one device send nothing twice, and each hears its answer', async () => {
    const { shop, page } = await van()
    const other = shop.page(page.db, page.others)
    const sent = await Promise.all([
      page.out.send('AddNote', { job: JOB, text: 'one' }),
      other.out.send('AddNote', { job: JOB, text: 'two' }),
      page.out.send('AddNote', { job: JOB, text: 'three' }),
      other.out.send('PassPanel', { panel: 'NEBDY222' }),
    ])
    expect(sent.map(({ kind }) => kind)).toEqual(['kept', 'kept', 'kept', 'refused'])
    expect((await shop.log()).filter(({ type }) => type === 'NoteAdded')).toHaveLength(3)
    expect(await page.db.all()).toEqual([])
  })
})

describe('time', () => {
  test('a press while the time was in doubt is dated by the device’s clock when the time is known again', async () => {
    const { shop, page } = await van()
    page.away()
    const { now } = shop.server.clock
    // The page was loaded offline: its clock is two minutes slow and says that it does not know.
    shop.time.read = () => ({
      ...shop.reading(),
      nowMs: now() - 2 * MINUTE,
      deviceOffsetMs: 0,
      sync: 'notSynchronised',
    })
    await page.out.send('AddNote', { job: JOB, text: 'two nibs' })
    const pressedAt = now()
    shop.server.clock.advance(5 * MINUTE)
    shop.time.read = () => ({ ...shop.reading(), deviceOffsetMs: 2 * MINUTE })
    await page.back()
    const note = (await shop.log()).find(({ type }) => type === 'NoteAdded')
    expect(note?.at).toBe(pressedAt)
  })
})
