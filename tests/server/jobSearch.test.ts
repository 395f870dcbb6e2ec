import { existsSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test, vi } from 'vitest'
import type { DayAnswer, JobsAnswer } from '../../machines/contract.ts'
import { sqliteStore } from '../../server/log/sqlite.ts'
import { jobSearchRoutes } from '../../server/routes/jobs.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { logFolder } from '../support/logFiles.ts'
import { command, JOB, vanInWork } from '../support/serverCommands.ts'
import { openTestShop, type TestShop } from '../support/serverShop.ts'
import { BASE } from '../support/sheets.ts'

/** Any job of the shop is found by what somebody remembers of it. */

const place = folderForTests()

async function searched(shop: TestShop) {
  const asked = async (query: string) => {
    const answer = await shop.get(`/api/jobs${query}`)
    expect(answer.status).toBe(200)
    return answer.body as JobsAnswer
  }
  const all = async () => {
    await vi.waitFor(async () => expect((await asked('')).behind).toBe(0))
  }
  const found = async (typed: string) => {
    await all()
    return (await asked(`?find=${encodeURIComponent(typed)}`)).jobs
  }
  const must = async (id: string, type: string, data: object) => {
    const { status } = await shop.shops.ownWriter.handle(command(id, type, data))
    expect([id, status]).toEqual([id, 200])
  }
  return { ...shop, asked, all, found, must }
}

async function vanShop(
  folder: string | null = null,
  given: Parameters<typeof openTestShop>[0] = {},
) {
  const shop = await searched(await openTestShop({ ...given, more: [jobSearchRoutes(folder)] }))
  return shop
}

const RED = {
  job: 'REDREDAA',
  title: 'Hatchback, door',
  vehicle: 'red, XY 99 ZZ',
  colours: [{ key: 'body', code: 'R-17', variant: 'light' }],
}

describe('a job', () => {
  test('is found by title, panel, number, plate and color, the last worked on first', async () => {
    const { found, must, clock, shops } = await vanShop()
    for (const one of vanInWork) expect((await shops.ownWriter.handle(one)).status).toBe(200)
    clock.advance(60_000)
    await must('red', 'OpenJob', RED)
    expect((await found('')).map(({ job }) => job)).toEqual(['REDREDAA', JOB])
    expect((await found('delivery')).map(({ job }) => job)).toEqual([JOB])
    for (const typed of ['xy99', 'red XY', 'r17', 'light', 'REDRED'])
      expect([typed, (await found(typed)).map(({ job }) => job)]).toEqual([typed, ['REDREDAA']])
    expect(await found('green')).toEqual([])
    expect((await found(JOB))[0]?.panels).toContain('Rear door')
    clock.advance(60_000)
    await must('note', 'AddNote', { job: JOB, text: 'A run' })
    expect((await found('')).map(({ job }) => job)).toEqual([JOB, 'REDREDAA'])
  })

  test('that was closed is found, with the day on which it was; reopened it is open', async () => {
    const { found, must, clock } = await vanShop()
    await must('red', 'OpenJob', RED)
    clock.advance(60_000)
    await must('close', 'CloseJob', { job: RED.job })
    const [closed] = await found('hatchback')
    expect(closed).toMatchObject({ openedAt: clock.now() - 60_000, closedAt: clock.now() })
    await must('again', 'ReopenJob', { job: RED.job })
    expect((await found('hatchback'))[0]?.closedAt).toBeNull()
    expect(await found('2026-01-05')).toHaveLength(1)
    expect(await found('week 2')).toHaveLength(1)
    expect(await found('2026-01-04')).toEqual([])
  })

  test('whose opening was voided is not found any more', async () => {
    const { found, must } = await vanShop()
    await must('red', 'OpenJob', RED)
    expect(await found('hatchback')).toHaveLength(1)
    await must('void', 'VoidEntry', { entry: 'red.0', reason: 'pressed by mistake' })
    expect(await found('hatchback')).toEqual([])
  })

  test('of a page is counted: more are said, and had', async () => {
    const { asked, all, must } = await vanShop()
    for (let i = 0; i < 5; i += 1)
      await must(`o-${i}`, 'OpenJob', { job: `JJJJJJJ${2 + i}`, title: `Van ${i}` })
    await all()
    const first = await asked('?find=van&limit=3')
    expect([first.jobs.length, first.isMore]).toEqual([3, true])
    const rest = await asked('?find=van&limit=3&skip=3')
    expect([rest.jobs.length, rest.isMore]).toEqual([2, false])
    expect(new Set([...first.jobs, ...rest.jobs].map(({ job }) => job)).size).toBe(5)
  })
})

describe('the index', () => {
  test('goes on where it was after a restart, and is made anew where the log is another one', async () => {
    const { file, remove } = logFolder()
    const store = sqliteStore(file)
    const first = await vanShop(place.folder, { store })
    await first.must('red', 'OpenJob', RED)
    expect(await first.found('hatchback')).toHaveLength(1)
    await first.shops.close()
    const again = await vanShop(place.folder, { store })
    expect(await again.found('hatchback')).toHaveLength(1)
    await again.shops.close()
    await store.close()
    remove()
    const other = await vanShop(place.folder)
    await other.must('other', 'OpenJob', { job: JOB, title: 'Another shop' })
    expect(await other.found('hatchback')).toEqual([])
    expect(await other.found('another')).toHaveLength(1)
    await other.shops.close()
  })

  test('that cannot be read is thrown away', async () => {
    const file = join(place.folder, 'jobs.sqlite')
    writeFileSync(file, 'not a database, but long enough to be looked at as one'.repeat(200))
    const shop = await vanShop(place.folder)
    await shop.must('red', 'OpenJob', RED)
    expect(await shop.found('hatchback')).toHaveLength(1)
    expect(existsSync(file)).toBe(true)
    await shop.shops.close()
  })
})

test('what was done today is counted from midnight on the shop’s clocks, without what was voided', async () => {
  const { get, must, clock, shops } = await vanShop()
  for (const one of vanInWork) expect((await shops.ownWriter.handle(one)).status).toBe(200)
  const mixed = async () =>
    ((await get('/api/day')).body as DayAnswer).counts.material.map(({ totalMl }) => totalMl)
  expect(await mixed()).toEqual([300])
  // 09:00 in Madrid; 14 h 59 later it is the same day, a minute later it is not.
  clock.advance(15 * 3_600_000 - 60_000)
  expect(await mixed()).toEqual([300])
  await must('void', 'VoidEntry', { entry: 'mix.0', reason: 'pressed by mistake' })
  expect(await mixed()).toEqual([])
  await must('more', 'MixCup', { cup: 'CCCC3333', sheet: BASE.sheet, totalMl: 200 })
  expect(await mixed()).toEqual([200])
  clock.advance(60_000)
  expect(await mixed()).toEqual([])
})

test('a folder that cannot be made does not keep a shop from opening: it is said, and jobs are found', async () => {
  const file = join(place.folder, 'a-file')
  writeFileSync(file, '')
  const shop = await vanShop(join(file, 'cache'))
  await shop.must('red', 'OpenJob', RED)
  expect(await shop.found('hatchback')).toHaveLength(1)
  expect(shop.reports).toHaveLength(1)
  await shop.shops.close()
})

test('what is asked for wrongly is named', async () => {
  const { get, post } = await vanShop()
  for (const [query, field] of [
    [`?find=${'x'.repeat(121)}`, 'find'],
    ['?limit=0', 'limit'],
    ['?limit=201', 'limit'],
    ['?skip=-1', 'skip'],
  ] as const)
    expect(await get(`/api/jobs${query}`)).toMatchObject({
      status: 400,
      body: { error: { field } },
    })
  expect((await post('/api/jobs', {})).status).toBe(405)
})
