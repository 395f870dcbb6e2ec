import { beforeAll, describe, expect, test } from 'vitest'
import type { RecordsAnswer } from '../../machines/contract/records.ts'
import { pdfText } from '../support/pdfReader.ts'
import type { TestShop } from '../support/serverShop.ts'
import { JOB, must, sprayed } from '../support/sprayedVan.ts'

/** Records over HTTP, of a van that was sprayed on 5 January 2026. */

let shop: TestShop
const DAYS = 'from=2026-01-01&to=2026-01-31'
const asked = async (query: string) => {
  const { status, body } = await shop.get(`/api/records?${query}`)
  return { status, body: body as RecordsAnswer & { error?: { field: string; message: string } } }
}

beforeAll(async () => {
  shop = await sprayed([])
  await must(shop, 'RecordTraining', {
    ...{ person: 'ann', name: 'Ann', kind: 'initial', doneMs: Date.UTC(2021, 1, 1) },
  })
  await must(shop, 'UseSolvent', { solvent: 'thinner', ml: 500 })
  await must(shop, 'ServiceFilter', { zone: 'booth', what: 'changed', efficiency: 0.97 })
})

describe('of a month', () => {
  test('material, coats, overrides, solvent, training and filters', async () => {
    const { records } = (await asked(DAYS)).body
    expect(records.material.map(({ ml, cups }) => [ml, cups])).toEqual([
      [600, 1],
      [600, 1],
    ])
    // Two of base and one of clear on both panels, and a second of clear on the door.
    expect(records.coats).toMatchObject([
      { code: 'base', count: 4 },
      { code: 'clear', count: 3 },
    ])
    expect(records.overrides).toContainEqual({ code: 'flashNotOver', count: 1 })
    expect(records.solvents).toEqual([{ solvent: 'thinner', ml: 500, times: 1 }])
    expect(records.training).toMatchObject([{ name: 'Ann', due: 'soon' }])
    expect(records.filters).toMatchObject([{ zone: 'booth', efficiency: 0.97 }])
  })

  test('of a month before, nothing was mixed; who has to be trained is said all the same', async () => {
    const { records } = (await asked('from=2025-12-01&to=2025-12-31')).body
    expect(records.material).toEqual([])
    expect(records.training).toHaveLength(1)
  })

  test('days are the shop’s: its midnight is not that of UTC', async () => {
    const { body } = await asked('from=2026-01-05&to=2026-01-05')
    expect(new Date(body.fromMs).toISOString()).toBe('2026-01-04T23:00:00.000Z')
    expect(body.records.material).toHaveLength(2)
  })
})

test('CSV and PDF hold the same rows', async () => {
  const csv = await shop.app.request(`/api/records?${DAYS}&as=csv`)
  expect(csv.headers.get('content-type')).toContain('text/csv')
  const text = await csv.text()
  expect(text).toContain('2K clear')
  const pdf = await shop.app.request(`/api/records?${DAYS}&as=pdf`)
  expect(pdf.headers.get('content-type')).toBe('application/pdf')
  const said = await pdfText(new Uint8Array(await pdf.arrayBuffer()))
  expect(said).toContain('2K clear')
  expect(said).toContain('done 2021-02-01; due 2026-02-01')
  expect(said).toContain('no statement that any rule is met')
})

test.each([
  ['en', ['flash not over', 'clear', 'topcoat; 1 cup', 'not read in the rule itself']],
  [
    'es',
    ['evaporación sin terminar', 'transparente', 'acabado', 'no se leyeron en la norma misma'],
  ],
])('in %s both are in words, and in none of the log’s codes', async (language, words) => {
  const of = (form: string) =>
    shop.app.request(`/api/records?${DAYS}&as=${form}&language=${language}`)
  const text = await (await of('csv')).text()
  const paper = await pdfText(new Uint8Array(await (await of('pdf')).arrayBuffer()))
  for (const word of words.slice(0, 3)) expect(text).toContain(word)
  expect(paper.replaceAll(/\s+/g, ' ')).toContain(words[3])
  for (const said of [text, paper]) expect(said).not.toMatch(/\b[a-z]+[A-Z][a-z]+[A-Z]?/)
})

test.each([
  ['from=2026-13-01', 'from'],
  ['from=yesterday', 'from'],
  ['from=2026-01-31&to=2026-01-01', 'to'],
  ['from=2020-01-01&to=2026-01-01', 'to'],
  ['jurisdiction=moon', 'jurisdiction'],
  [`${DAYS}&as=xls`, 'as'],
  [`${DAYS}&language=fr`, 'language'],
])('%s is answered with the field', async (query, field) => {
  const { status, body } = await asked(query)
  expect([status, body.error?.field]).toEqual([400, field])
  expect(body.error?.message).toMatch(/Use /)
})

test('what was typed in is taken back as any other mistake, by its entry or by its press', async () => {
  const records = async () => (await asked(DAYS)).body.records
  const before = await records()
  await must(shop, 'UseSolvent', { solvent: 'thinner', ml: 5_000 })
  await must(shop, 'ServiceFilter', { zone: 'booth', what: 'changed', efficiency: 0.2 })
  expect((await records()).solvents).toEqual([{ solvent: 'thinner', ml: 5_500, times: 2 }])
  const { typed } = await records()
  expect(typed.map(({ type }) => type)).toEqual(
    expect.arrayContaining(['SolventUsed', 'FilterServiced', 'TrainingRecorded']),
  )
  const filter = typed.find(({ type }) => type === 'FilterServiced')
  await must(shop, 'VoidEntry', { entry: filter?.entry, reason: 'UNIT_ERROR' })
  const solvent = typed.find(({ ml }) => ml === 5_000)
  await must(shop, 'VoidEntry', { command: solvent?.entry.split('.')[0], reason: 'MISTAP' })
  const after = await records()
  expect([after.solvents, after.filters]).toEqual([before.solvents, before.filters])
  expect(after.voids).toEqual([
    { code: 'FilterServiced', count: 1 },
    { code: 'SolventUsed', count: 1 },
  ])
})

test('a training of tomorrow is not taken, nor a deviation of an entry that is not there', async () => {
  const wrong = await shop.post('/api/commands', {
    ...{ id: 'wrong-1', type: 'RecordTraining' },
    data: { person: 'a', name: 'A', kind: 'initial', doneMs: shop.clock.now() + 86_400_000 },
  })
  expect(wrong.status).toBe(400)
  const none = await shop.post('/api/commands', {
    ...{ id: 'wrong-2', type: 'SettleDeviation' },
    data: {
      ...{ job: JOB, entry: 'none.0', code: 'flashNotOver' },
      ...{ disposition: 'accept', reason: 'CLIMATE' },
    },
  })
  expect(none.status).toBe(409)
})
