import { describe, expect, test } from 'vitest'
import { entriesHere } from '../../kiosk/jobs/historyLines.ts'
import type { Entry } from '../../machines/envelope.ts'
import type { Step } from '../../machines/job/steps.ts'
import { timelineRoutes } from '../../server/routes/timeline.ts'
import { CUP, command, DOOR, JOB, vanInWork } from '../support/serverCommands.ts'
import { MINUTE, openTestShop, START_MS } from '../support/serverShop.ts'
import { BASE } from '../support/sheets.ts'

/** What happened to a job, over HTTP. */

const leftIn = ({ steps }: Timeline) => steps.filter(({ isTaken }) => !isTaken)
type Timeline = { job: string; head: number; entries: Entry[]; steps: Step[] }

async function vanShop(given: Parameters<typeof openTestShop>[0] = {}) {
  const shop = await openTestShop({ ...given, more: [timelineRoutes] })
  const { handle } = shop.shops.ownWriter
  for (const one of vanInWork) expect((await handle(one)).status).toBe(200)
  const timeline = async (job = JOB) =>
    (await shop.get(`/api/jobs/${job}/timeline`)).body as Timeline
  const must = async (id: string, type: string, data: object, extra: object = {}) => {
    const answer = await handle(command(id, type, data, extra))
    expect([type, answer.status, JSON.stringify(answer.body)]).toEqual([
      type,
      200,
      JSON.stringify(answer.body),
    ])
  }
  return { ...shop, timeline, must }
}
const types = ({ entries }: Timeline) => entries.map(({ type }) => type)

describe('the timeline of a job', () => {
  test('has its own entries and those of no other job', async () => {
    const { timeline, must } = await vanShop()
    await must('other', 'OpenJob', { job: 'VANJAB33', title: 'Another van' })
    await must('note', 'AddNote', { job: JOB, text: 'The sill is dented too' })
    const { job, entries, head } = await timeline()
    expect(job).toBe(JOB)
    expect(entries.every((entry) => entry.job === JOB)).toBe(true)
    expect(entries[0]).toMatchObject({
      type: 'JobOpened',
      data: { title: 'Delivery van, rear corner' },
    })
    expect(entries.at(-1)).toMatchObject({ type: 'NoteAdded', position: head })
    expect(types(await timeline('VANJAB33'))).toEqual(['JobOpened'])
  })

  test('has a cup that was mixed for it as well from its mixing on', async () => {
    const { timeline, must } = await vanShop()
    await must('other', 'OpenJob', { job: 'VANJAB33', title: 'Another van' })
    const mix = {
      cup: 'SSSS2222',
      sheet: BASE.sheet,
      totalMl: 200,
      job: JOB,
      alsoFor: ['VANJAB33'],
    }
    await must('both', 'MixCup', mix)
    expect(types(await timeline('VANJAB33'))).toEqual(['JobOpened', 'CupMixed', 'CupShared'])
    await must('onward', 'PourCup', { cup: 'TTTT2222', from: [{ cup: 'SSSS2222' }] })
    await must('away', 'EmptyCup', { cup: 'TTTT2222', how: 'discarded' })
    expect(types(await timeline('VANJAB33')).slice(3)).toEqual([
      ...['CupPoured', 'CupPoured', 'CupShared', 'CupEmptied'],
    ])
  })

  test('is in the order of occurrence: what arrived late is placed where it happened', async () => {
    const { timeline, must, clock } = await vanShop()
    clock.advance(8 * MINUTE)
    await must('note-now', 'AddNote', { job: JOB, text: 'Now' })
    await must(
      'note-late',
      'AddNote',
      { job: JOB, text: 'Five minutes ago' },
      {
        at: START_MS + 3 * MINUTE,
      },
    )
    const { entries } = await timeline()
    const late = entries.find((entry) => entry.data.text === 'Five minutes ago')
    const now = entries.find((entry) => entry.data.text === 'Now')
    expect(late?.position).toBeGreaterThan(now?.position ?? 0)
    expect(entries.indexOf(late as Entry)).toBeLessThan(entries.indexOf(now as Entry))
    expect(late).toMatchObject({ at: START_MS + 3 * MINUTE, enteredAt: START_MS + 8 * MINUTE })
  })

  test('keeps what was voided, and the void with its reason', async () => {
    const { timeline, must } = await vanShop()
    await must('slip', 'AddNote', { job: JOB, text: 'Wrong vehicle' })
    await must('void', 'VoidEntry', { entry: 'slip.0', reason: 'WRONG_PART' })
    const { entries } = await timeline()
    expect(entries.find(({ id }) => id === 'slip.0')).toBeDefined()
    expect(entries.at(-1)).toMatchObject({
      type: 'EntryVoided',
      reason: 'WRONG_PART',
      data: { entry: 'slip.0' },
    })
  })

  describe('includes the cups and guns that its coats were sprayed from', () => {
    const [STOCK, FRESH, CHILD, OTHER] = ['STCK2222', 'FRSH2222', 'KKKK2222', 'THER2222']
    const told = ({ entries }: Timeline) =>
      entries
        .filter(({ cup, gun, type }) => /^(Cup|Gun)/.test(type) && (cup ?? gun))
        .map(({ type, cup, gun }) => `${type} ${cup ?? gun}`)

    async function sprayed() {
      const shop = await vanShop()
      const { must, clock } = shop
      const mix = (cup: string, more: object = {}) =>
        must(`mix-${cup}`, 'MixCup', { cup, sheet: BASE.sheet, totalMl: 100, ...more })
      await must('clean-0', 'CleanGun', { gun: 'gun-1' })
      await mix(STOCK)
      await mix(FRESH)
      await mix(OTHER)
      await must('onward', 'PourCup', {
        cup: CHILD,
        from: [{ cup: STOCK }, { cup: FRESH, ml: 50 }],
      })
      clock.advance(MINUTE)
      await must('load-other', 'LoadGun', { gun: 'gun-2', cup: OTHER })
      await must('load-0', 'LoadGun', { gun: 'gun-1', cup: OTHER })
      clock.advance(MINUTE)
      await must('clean-1', 'CleanGun', { gun: 'gun-1' })
      await must('load-1', 'LoadGun', { gun: 'gun-1', cup: CHILD })
      await must('start', 'StartCoat', { panels: [DOOR], cup: CHILD, gun: 'gun-1' })
      clock.advance(5 * MINUTE)
      await must('finish', 'FinishCoat', { panels: [DOOR] })
      await must('empty', 'EmptyCup', { cup: FRESH, how: 'discarded' })
      await must('clean-2', 'CleanGun', { gun: 'gun-1' })
      clock.advance(MINUTE)
      await must('clean-3', 'CleanGun', { gun: 'gun-1' })
      return shop
    }

    test('with all that a cup was poured of, each fact once, and nothing of other cups and guns', async () => {
      const timeline = await (await sprayed()).timeline()
      expect(told(timeline)).toEqual([
        `CupMixed ${CUP}`,
        `CupMixed ${STOCK}`,
        `CupMixed ${FRESH}`,
        `CupPoured ${STOCK}`,
        `CupPoured ${FRESH}`,
        `CupPoured ${CHILD}`,
        'GunCleaned gun-1',
        `GunLoaded ${CHILD}`,
        `CupEmptied ${FRESH}`,
        'GunCleaned gun-1',
      ])
      expect(new Set(timeline.entries.map(({ id }) => id)).size).toBe(timeline.entries.length)
    })

    test('and of what was voided about them', async () => {
      const { timeline, must } = await sprayed()
      await must('slip', 'VoidEntry', { entry: 'empty.0', reason: 'WRONG_CUP' })
      expect((await timeline()).entries.at(-1)).toMatchObject({
        type: 'EntryVoided',
        cup: FRESH,
        data: { entry: 'empty.0' },
      })
    })

    test('is the same as what a kiosk shows from its own state while the server is away', async () => {
      const { timeline, shops } = await sprayed()
      const here = entriesHere(shops.ownWriter.state(), JOB)
      expect(here).toEqual((await timeline()).entries)
    })
  })

  describe('lists what does not count, with the state of its thing at that time', () => {
    /** Two kiosks were offline; the queue of the later press arrives first. */
    async function twoQueues() {
      const shop = await vanShop({ snapshotEvery: 2 })
      const { must, clock } = shop
      clock.advance(30 * MINUTE)
      const start = (id: string, min: number, device: string) => {
        const at = START_MS + min * MINUTE
        const data = { panels: [DOOR], cup: CUP }
        return must(id, 'StartCoat', data, { at, enteredAt: at, device, seq: 1 })
      }
      await start('late', 6, 'kiosk-b')
      await start('first', 5, 'kiosk-a')
      return shop
    }
    const LEFT = { entry: 'late.0', kind: 'panel', state: 'base.coating', isTaken: false }

    test('of two starts from two queues the later one, as the state has it', async () => {
      const { timeline, shops } = await twoQueues()
      const { things } = shops.ownWriter.state()
      expect(things.panel[DOOR]?.notTaken).toEqual(['late.0'])
      expect(leftIn(await timeline())).toEqual([LEFT])
    })

    test('and nothing once the entry that blocked it is voided', async () => {
      const { timeline, must } = await twoQueues()
      await must('slip', 'VoidEntry', { entry: 'first.0', reason: 'DUPLICATE' })
      expect(leftIn(await timeline())).toEqual([])
    })

    test('also of a job that was closed and evicted, and of a cup that no coat came from', async () => {
      const { timeline, must, shops, clock } = await twoQueues()
      const cup = 'THER2222'
      await must('mix-other', 'MixCup', { cup, job: JOB, sheet: BASE.sheet, totalMl: 100 })
      clock.advance(5 * MINUTE)
      await must('print', 'PrintLabel', { cup })
      const at = clock.now() - 2 * MINUTE
      const queued = { at, enteredAt: at, device: 'kiosk-b', seq: 2 }
      await must('empty', 'EmptyCup', { cup, how: 'used' }, queued)
      await must('finish', 'FinishCoat', { panels: [DOOR] })
      await must('close', 'CloseJob', { job: JOB, override: { reason: 'CUSTOMER_CHANGE' } })
      clock.advance(20 * 24 * 60 * MINUTE)
      for (const id of ['more-1', 'more-2', 'more-3'])
        await must(id, 'AddPerson', { person: id, name: 'Painter', role: 'painter' })
      expect(shops.ownWriter.state().things.job[JOB]).toBeUndefined()
      expect(leftIn(await timeline())).toEqual([
        LEFT,
        { entry: 'print.0', kind: 'cup', state: 'emptied', isTaken: false },
      ])
    })
  })

  test('of a closed job that the state has evicted is read from the log', async () => {
    const { timeline, must, shops, store, clock } = await vanShop({ snapshotEvery: 2 })
    await must('close', 'CloseJob', { job: JOB, override: { reason: 'CUSTOMER_CHANGE' } })
    clock.advance(5 * 60 * MINUTE)
    await must('more-1', 'ReadClimate', { zone: 'booth', airC: 21, rh: 0.5 })
    await must('more-2', 'ReadClimate', { zone: 'booth', airC: 23, rh: 0.5 })
    await shops.close()
    const later = await openTestShop({ store, more: [timelineRoutes] })
    expect(later.shops.ownWriter.state().things.job[JOB]).toBeUndefined()
    const answer = await later.get(`/api/jobs/${JOB}/timeline`)
    expect(answer.status).toBe(200)
    expect(types(answer.body as Timeline)).toContain('JobClosed')
    expect((await timeline()).entries).toEqual((answer.body as Timeline).entries)
  })

  test('of an unknown job, or of no job at all, is a sentence', async () => {
    const shop = await openTestShop({ more: [timelineRoutes] })
    expect(await shop.get('/api/jobs/ZZZZZZZZ/timeline')).toMatchObject({
      status: 404,
      body: { error: { message: 'There is no job ZZZZZZZZ here.' } },
    })
    for (const id of ['van', 'VANJAB2O', '%27%20OR%201', 'VANJAB222']) {
      const { status, body } = await shop.get(`/api/jobs/${id}/timeline`)
      expect([id, status]).toEqual([id, 400])
      expect((body as { error: { message: string } }).error.message).toContain('eight characters')
    }
    expect((await shop.post(`/api/jobs/${JOB}/timeline`, {})).status).toBe(405)
  })

  test('says so where the log cannot be read', async () => {
    const { store, get, reports } = await vanShop()
    await store.close()
    expect(await get(`/api/jobs/${JOB}/timeline`)).toMatchObject({
      status: 503,
      body: { error: { code: 'unreadable' } },
    })
    expect(reports).toHaveLength(1)
  })
})
