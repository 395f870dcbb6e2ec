import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { ForecastAnswer, LearnedAnswer } from '../../machines/contract.ts'
import { forecastRoutes } from '../../server/routes/forecast.ts'
import { nextTurn } from '../../server/turn.ts'
import { folderForTests } from '../support/folderForTests.ts'
import { command, vanInWork } from '../support/serverCommands.ts'
import { post, ran, serverProcess } from '../support/serverProcess.ts'
import { openTestShop, type TestShop } from '../support/serverShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'

const place = folderForTests()

const VAN = [
  { atMin: 0, type: 'SaveSheet', data: { sheet: BASE } },
  { atMin: 0, type: 'SaveSheet', data: { sheet: CLEAR } },
  { atMin: 0, type: 'ReadClimate', data: { zone: 'booth', airC: 20, rh: 0.5 } },
  { atMin: 0, type: 'OpenJob', data: { job: 'VANREAR2', title: 'Delivery van' } },
  {
    ...{ atMin: 0, type: 'AddPanel' },
    data: {
      ...{ job: 'VANREAR2', panel: 'SDEDR222', name: 'Sliding door', operation: 'repair' },
      ...{ areaM2: 2, zone: 'booth' },
      route: [
        { stage: 'base', sheet: BASE.sheet },
        { stage: 'clear', sheet: CLEAR.sheet },
      ],
    },
  },
]

function fileOf(list: unknown): string {
  const file = join(place.folder, 'list.json')
  writeFileSync(file, JSON.stringify(list))
  return file
}

describe('flashbell forecast', () => {
  test('prints the plan of a rehearsal file as JSON', async () => {
    const { code, out, err } = await ran(['forecast', fileOf(VAN)])
    expect({ code, err }).toEqual({ code: 0, err: '' })
    const { forecast } = JSON.parse(out) as ForecastAnswer
    // By the sheets at 20 °C: mix 5, coat 4, flash 8, coat 4, flash 15 (mix and gun meanwhile), coat 4, flash 10, coat 4.
    const minutes = (ms: number | null | undefined) => ((ms ?? 0) - forecast.atMs) / 60_000
    expect(forecast.acts.map(({ stage, fromMs }) => [stage, minutes(fromMs)])).toEqual([
      ['base', 5],
      ['base', 17],
      ['clear', 36],
      ['clear', 50],
    ])
    expect(minutes(forecast.jobs[0]?.doneAtMs)).toBe(54)
    expect(minutes(forecast.jobs[0]?.earlyMs)).toBeLessThan(54)
    expect(minutes(forecast.jobs[0]?.lateMs)).toBeGreaterThan(54)
    expect(forecast.next).toMatchObject({ because: 'only', act: { panel: 'SDEDR222' } })
  })

  test('a line that is not accepted is said, and the plan is of the others', async () => {
    const late = { atMin: 1, type: 'StartCoat', data: { panels: ['SDEDR222'], cup: 'XXXXXXXX' } }
    const { code, out, err } = await ran(['forecast', fileOf([...VAN, late])])
    expect(code).toBe(1)
    expect(err).toContain('"ok":false')
    expect((JSON.parse(out) as ForecastAnswer).forecast.jobs).toHaveLength(1)
  })

  test.each([
    [['forecast', 'a.json', 'b.json'], 'b.json is one word too many.'],
    [['forecast', 'a.json', '--data', 'x'], 'forecast takes a file or --data, not both.'],
    [['forecast', 'none.json'], 'The file none.json cannot be read.'],
    [['forecast', '--data', 'nowhere'], 'There is no log in nowhere.'],
  ])('%j is said in a sentence', async (args, said) => {
    const { code, out, err } = await ran(args)
    expect(code).toBeGreaterThan(0)
    expect(out).toBe('')
    expect(err).toContain(said)
  })

  test('prints the plan of a shop that is served, and changes nothing there', async () => {
    const data = place.folder
    const server = await serverProcess(data)
    for (const wish of vanInWork)
      expect((await post(`${server.url}/api/commands`, wish)).status).toBe(200)
    const { code, out } = await ran(['forecast', '--data', data])
    expect(code).toBe(0)
    const answer = JSON.parse(out) as ForecastAnswer
    const asked = (await (await fetch(`${server.url}/api/forecast`)).json()) as ForecastAnswer
    expect(answer.head).toBe(asked.head)
    expect(answer.forecast.jobs.map(({ job }) => job)).toEqual(
      asked.forecast.jobs.map(({ job }) => job),
    )
    await server.stop('SIGTERM')
  })
})

async function planned(folder: string | null = null): Promise<TestShop> {
  const shop = await openTestShop({ more: [forecastRoutes(folder)] })
  for (const [i, { type, data }] of VAN.entries())
    expect((await shop.post('/api/commands', command(`p-${i}`, type, data))).status).toBe(200)
  while (((await shop.get('/api/learned')).body as LearnedAnswer).behind > 0) await nextTurn()
  return shop
}

describe('GET /api/forecast', () => {
  const forecastOf = async (shop: TestShop, query = '') =>
    (await shop.get(`/api/forecast${query}`)).body as ForecastAnswer

  test('is made when it is asked for, also of what is supposed', async () => {
    const shop = await planned()
    const { forecast } = await forecastOf(shop)
    const warm = (await forecastOf(shop, '?warmerC=10')).forecast
    expect(forecast.jobs[0]?.doneAtMs).toBeGreaterThan(0)
    expect(Number(warm.jobs[0]?.doneAtMs)).toBeLessThanOrEqual(Number(forecast.jobs[0]?.doneAtMs))
    expect(warm.air[0]).toMatchObject({ airC: 30, how: 'supposed' })
    const more = (await forecastOf(shop, '?anotherOf=SDEDR222')).forecast
    expect(more.acts.length).toBe(2 * forecast.acts.length)
  })

  test('nobody who paints, and a booth that is too cold: said with what would make it possible', async () => {
    const shop = await planned()
    expect((await forecastOf(shop, '?painters=0')).forecast.cannot).toMatchObject([
      { code: 'noPainter', panel: 'SDEDR222' },
    ])
    const cold = (await forecastOf(shop, '?warmerC=-10')).forecast
    expect(cold.cannot).toMatchObject([{ code: 'airOutside', airC: 10, minC: 15, zone: 'booth' }])
    expect(cold.jobs[0]?.doneAtMs).toBeNull()
  })

  test.each([
    ['?painters=many', 'painters'],
    ['?painters=1.5', 'painters'],
    ['?warmerC=99', 'warmerC'],
    ['?anotherOf=NONESUCH', 'anotherOf'],
    ['?activator=clear-2k:none', 'activator'],
    ['?colour=red', 'colour'],
  ])('%s is refused with the field that is wrong', async (query, field) => {
    const shop = await planned()
    const { status, body } = await shop.get(`/api/forecast${query}`)
    expect(status).toBe(400)
    expect((body as { error: { field: string } }).error.field).toBe(field)
  })

  test('what was learned outlives a restart, and is made anew of another log', async () => {
    const { folder } = place
    const shop = await planned(folder)
    const cup = { cup: 'BASE3W9K', sheet: BASE.sheet, totalMl: 300 }
    const say = async (id: string, type: string, data: object) =>
      expect((await shop.post('/api/commands', command(id, type, data))).status).toBe(200)
    await say('m-1', 'MixCup', cup)
    await say('m-2', 'StartCoat', { panels: ['SDEDR222'], cup: 'BASE3W9K' })
    shop.clock.advance(6 * 60_000)
    await say('m-3', 'FinishCoat', { panels: ['SDEDR222'] })
    const learned = async () => (await shop.get('/api/learned')).body as LearnedAnswer
    while ((await learned()).behind > 0) await nextTurn()
    // Four minutes by area; it took six.
    expect((await learned()).learned['spray:base']).toMatchObject({ cases: 1, median: 1.5 })
    const figures = (await learned()).learned
    await shop.shops.close()
    const other = await planned(folder)
    // Another shop's log: nothing of the first one is left.
    expect(((await other.get('/api/learned')).body as LearnedAnswer).learned).not.toEqual(figures)
    await other.shops.close()
  })
})
