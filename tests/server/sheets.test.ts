import { expect, test } from 'vitest'
import { openTestShop } from '../support/serverShop.ts'
import { BASE, CLEAR } from '../support/sheets.ts'

const post = (body: unknown) => ({
  method: 'POST',
  headers: { 'content-type': 'application/json' },
  body: JSON.stringify(body),
})

test('the sheets of a shop go out as a file, and are looked at before they come in', async () => {
  const one = await openTestShop()
  await one.post('/api/commands', { id: 'c1', type: 'SaveSheet', data: { sheet: BASE } })
  const out = await one.app.request('/api/sheets')
  expect(out.headers.get('content-disposition')).toContain('flashbell-sheets.json')
  const file = (await out.json()) as { sheets: object[] }
  const both = { ...file, sheets: [...file.sheets, CLEAR] }
  const seen = await one.app.request('/api/sheets/preview', post(both))
  expect(await seen.json()).toEqual({
    sheets: [
      { sheet: 'base-solvent', name: BASE.name, is: 'same', fields: [] },
      { sheet: 'clear-2k', name: CLEAR.name, is: 'new', fields: [] },
    ],
  })
  const wrong = await one.app.request(
    '/api/sheets/preview',
    post({ ...both, sheets: [{ ...CLEAR, by: 'eye' }] }),
  )
  expect(wrong.status).toBe(400)
  const { error } = (await wrong.json()) as { error: { field: string; message: string } }
  expect(error.field).toBe('file.sheets.0.by')
  expect(error.message).toContain('"eye"')
  expect(error.message).toContain('volume, mass')
})

test('a flash before heat that no client sent is not known: the bake asks for it, until the sheet says it', async () => {
  const shop = await openTestShop()
  let count = 0
  const send = async (type: string, data: object) => {
    count += 1
    return shop.post('/api/commands', { id: `c${count}`, type, data })
  }
  const bake = { tempC: 60, minutes: 30, basis: 'part' }
  const { coats: _, ...clear } = CLEAR
  const sheet = { ...clear, coats: { least: 1, planned: 1, most: 1 }, cure: { bake: [bake] } }
  const file = { format: 'flashbell-sheets', version: 1, sheets: [sheet] }
  await send('ImportSheets', file)
  const out = (await (await shop.app.request('/api/sheets')).json()) as { sheets: object[] }
  expect(out.sheets).toMatchObject([{ cure: { bake: [bake] } }])
  expect(JSON.stringify(out.sheets)).not.toContain('flashBefore":')
  const [job, panel, cup] = ['JJJJ2222', 'DDDD2222', 'CCCC2222']
  await send('OpenJob', { job, title: 'Van' })
  const route = [{ stage: 'clear', sheet: sheet.sheet }, { stage: 'cure' }]
  await send('AddPanel', { job, panel, name: 'Door', operation: 'repair', route })
  await send('MixCup', { cup, sheet: sheet.sheet, totalMl: 300 })
  await send('StartCoat', { panels: [panel], cup })
  await send('FinishCoat', { panels: [panel] })
  shop.clock.advance(60 * 60_000)
  const heat = await send('StartCure', { panels: [panel], mode: 'bake' })
  expect(heat.status).toBe(409)
  expect(heat.body).toMatchObject({
    refusal: { code: 'flashNotOver', params: { why: 'notKnown' }, overridable: true },
  })
  await send('SaveSheet', { sheet: { ...sheet, cure: { bake: [{ ...bake, flashBefore: 10 }] } } })
  expect((await send('StartCure', { panels: [panel], mode: 'bake' })).status).toBe(200)
})
