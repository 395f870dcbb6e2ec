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
