import { beforeAll, describe, expect, test } from 'vitest'
import type { TraceAnswer } from '../../machines/contract.ts'
import { traceRoutes } from '../../server/routes/trace.ts'
import { MINUTE, type TestShop } from '../support/serverShop.ts'
import { DOOR, JOB, SILL, sprayed } from '../support/sprayedVan.ts'

/** Causes over HTTP: a job on the server, asked about a defect. */

const ask = async (shop: TestShop, query = '') => {
  const { status, body } = await shop.get(`/api/jobs/${JOB}/trace${query}`)
  return { status, body: body as TraceAnswer & { error?: { message: string; field: string } } }
}

describe('a job is traced from the log', () => {
  let shop: TestShop
  beforeAll(async () => {
    shop = await sprayed([traceRoutes])
  })

  test('without a defect: its entries with air and sheets, and its deviations', async () => {
    const { body } = await ask(shop)
    expect(body.verdict).toBeNull()
    const types = new Set(body.entries.map(({ type }) => type))
    for (const type of ['ClimateRead', 'ZoneSaved', 'SheetSaved', 'CupMixed', 'CoatStarted'])
      expect(types).toContain(type)
    expect(body.deviations.filter(({ kind }) => kind === 'override')).toMatchObject([
      {
        code: 'flashNotOver',
        where: { panel: DOOR, stage: 'clear', coat: 2 },
        excess: { unit: 'ms' },
      },
    ])
    expect(new Set(body.entries.map(({ id }) => id)).size).toBe(body.entries.length)
  })

  test('with one: the short flash comes first, with its numbers and its entry', async () => {
    const { body } = await ask(shop, `?defect=solventPop&panel=${DOOR}`)
    const [first] = body.verdict?.causes ?? []
    expect(first).toMatchObject({ id: 'flashShort', verdict: 'supported', check: 'cutPit' })
    // CLEAR wants 10 min at 20 °C; the door's coat ended the sill's 2 min before the pass did.
    expect(first?.speaksFor[0]).toMatchObject({
      ...{ panel: DOOR, stage: 'clear', coat: 2, value: 6 * MINUTE, limit: 10 * MINUTE },
    })
    const spot = body.entries.find(({ id }) => id === first?.speaksFor[0]?.entry)
    expect(spot).toMatchObject({ type: 'CoatStarted', panel: DOOR })
    expect(body.verdict?.missingLayers).toEqual([])
  })

  test('of the panel that was not sprayed in a hurry it is not said', async () => {
    const { body } = await ask(shop, `?defect=solventPop&panel=${SILL}`)
    const cause = body.verdict?.causes.find(({ id }) => id === 'flashShort')
    expect(cause?.speaksFor).toEqual([])
  })

  test('what was not known when it was seen did not cause it', async () => {
    const { entries } = (await ask(shop)).body
    const second = entries.findLast(({ type }) => type === 'CoatStarted')?.at ?? 0
    const { body } = await ask(shop, `?defect=solventPop&panel=${DOOR}&noticedAt=${second - 1}`)
    expect(body.verdict?.causes.find(({ id }) => id === 'flashShort')?.speaksFor).toEqual([])
  })

  test.each([
    ['?defect=rust', 'defect', 'rust'],
    ['?defect=runs&panel=XXXX2222', 'panel', 'XXXX2222'],
    ['?defect=runs&stage=wax', 'stage', 'wax'],
    ['?defect=runs&noticedAt=yesterday', 'noticedAt', ''],
    [`?panel=${DOOR}`, 'defect', ''],
  ])('%s is answered with a sentence about the field', async (query, field, given) => {
    const { status, body } = await ask(shop, query)
    expect(status).toBe(400)
    expect(body.error?.field).toBe(field)
    expect(body.error?.message).toContain(field)
    expect(body.error?.message).toContain(given)
  })

  test('a job that nobody opened is not found', async () => {
    expect((await shop.get('/api/jobs/NNNN2222/trace?defect=runs')).status).toBe(404)
  })
})
