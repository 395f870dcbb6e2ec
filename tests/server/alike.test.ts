import { beforeAll, expect, test } from 'vitest'
import type { AlikeAnswer } from '../../machines/contract/genealogy.ts'
import { genealogyRoutes } from '../../server/routes/genealogy.ts'
import { MINUTE, type TestShop } from '../support/serverShop.ts'
import { BASE, CLEAR, SEALER } from '../support/sheets.ts'
import { JOB, must, sprayed } from '../support/sprayedVan.ts'

/** Jobs that went well, to compare one with that did not. */

let shop: TestShop
let count = 0
/** Letters that an id may hold. */
const LETTERS = 'ABCDEFGHJKMN'

type Wish = {
  readonly job: string
  readonly base?: string
  readonly code?: string
  /** A second coat of clear after so many minutes. */
  readonly secondAfterMin?: number
  readonly isPassed?: boolean
}

/** A van with one panel: base twice, clear twice. */
async function another({
  job,
  base = BASE.sheet,
  code = '',
  secondAfterMin = 12,
  isPassed = true,
}: Wish) {
  count += 1
  const [panel, baseCup, clearCup] = ['P', 'B', 'C'].map((one) => `${one}K${LETTERS[count]}K2222`)
  const pass = async (type: string, min: number, data: object) => {
    shop.clock.advance(min * MINUTE)
    await must(shop, type, data)
  }
  const route = [
    { stage: base === BASE.sheet ? 'base' : 'sealer', sheet: base },
    { stage: 'clear', sheet: CLEAR.sheet },
  ]
  await must(shop, 'OpenJob', {
    ...{ job, title: `Van ${count}` },
    colours: code === '' ? [] : [{ key: 'body', code }],
  })
  await must(shop, 'AddPanel', {
    ...{ job, panel, name: 'Door', operation: 'repair', areaM2: 1, zone: 'bench', route },
  })
  await must(shop, 'MixCup', { cup: baseCup, sheet: base, totalMl: 300, zone: 'bench', job })
  for (const wait of base === BASE.sheet ? [1, 12] : [1]) {
    await pass('StartCoat', wait, { panels: [panel], cup: baseCup, override: { reason: 'test' } })
    await pass('FinishCoat', 2, { panels: [panel] })
  }
  shop.clock.advance(20 * MINUTE)
  await must(shop, 'MixCup', {
    cup: clearCup,
    sheet: CLEAR.sheet,
    totalMl: 300,
    zone: 'bench',
    job,
  })
  const override = { override: { reason: 'hurry' } }
  for (const wait of [1, secondAfterMin]) {
    await pass('StartCoat', wait, { panels: [panel], cup: clearCup, ...override })
    await pass('FinishCoat', 2, { panels: [panel] })
  }
  shop.clock.advance(120 * MINUTE)
  if (isPassed) await must(shop, 'PassPanel', { panel, ...override })
}

const alike = async (job = JOB) => {
  const { status, body } = await shop.get(`/api/jobs/${job}/alike`)
  return { status, jobs: (body as AlikeAnswer).jobs, error: (body as { error?: object }).error }
}

beforeAll(async () => {
  shop = await sprayed([genealogyRoutes(null)])
})

test('a shop whose first job this is has none', async () => {
  await expect.poll(async () => (await alike()).jobs).toEqual([])
})

test('those that went well, of the same products, the most alike first and three at most', async () => {
  await must(shop, 'SaveSheet', { sheet: SEALER })
  await another({ job: 'HASTY222', secondAfterMin: 3 })
  await another({ job: 'NTPS2222', isPassed: false })
  await another({ job: 'CCCC2222', base: SEALER.sheet })
  for (const job of ['GDGD2222', 'GDGD3333', 'GDGD4444']) await another({ job })
  await expect.poll(async () => (await alike()).jobs.length).toBe(3)
  const { jobs } = await alike()
  // The latest first where nothing else tells them apart.
  expect(jobs.map(({ job }) => job)).toEqual(['GDGD4444', 'GDGD3333', 'GDGD2222'])
  expect(jobs[0]).toMatchObject({ title: `Van ${count}`, sheets: 2, isSameColour: false })
})

test('the same color goes before a later day', async () => {
  await another({ job: 'SAMA2222', code: 'K-17' })
  await another({ job: 'XXXX3333', code: 'B-03' })
  await another({ job: 'SAMA3333', code: 'k-17 ' })
  await expect
    .poll(async () => (await alike('SAMA3333')).jobs[0])
    .toMatchObject({ job: 'SAMA2222', isSameColour: true })
})

test('one that was sent back is not one that went well', async () => {
  const [panel] = Object.entries(shop.shops.ownWriter.state().things.panel)
    .filter(([, { context }]) => context.job === 'GDGD4444')
    .map(([id]) => id)
  await must(shop, 'SendBackPanel', { panel, toStep: 1, done: 0, reason: 'runs' })
  expect((await alike()).jobs.map(({ job }) => job)).not.toContain('GDGD4444')
})

test('a job that nobody opened is not found, and no id is a wrong field', async () => {
  expect((await alike('NNNN2222')).status).toBe(404)
  expect((await alike('no')).error).toMatchObject({ field: 'id' })
})
