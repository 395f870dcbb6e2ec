import { Ajv } from 'ajv'
import { expect, test } from 'vitest'
import { check } from '../../machines/accept.ts'
import { sheetFileSchema } from '../../machines/sheet/file.ts'
import { openTestShop } from '../support/serverShop.ts'
import { BASE, CLEAR, SEALER } from '../support/sheets.ts'

/** The JSON Schema of a sheet file says by a validator that is not ours what the import says. */

const fileOf = (...sheets: readonly object[]) => ({
  format: 'flashbell-sheets',
  version: 1,
  sheets,
})

async function validator() {
  const shop = await openTestShop()
  const answer = await shop.app.request('/api/sheets/schema')
  expect(answer.headers.get('content-type')).toContain('application/schema+json')
  return new Ajv().compile(JSON.parse(await answer.text()))
}

const POINTS = [{ atC: 20, minutes: 5 }]
const FULL = {
  ...CLEAR,
  flashBetween: { full: POINTS, drop: 'intoWet', light: 'matte', withinMin: 10 },
  recoatWithin: 'mustSand',
  recoatAfterBake: POINTS,
  over: [{ stage: 'base', recoatWithin: 'never' }],
  prepFor: [{ over: 'existing', gritMin: 600, pads: ['gray'] }],
  viscosity: { cup: 'ISO 4', seconds: 18 },
  grit: { from: 600, to: 800 },
  ready: { sand: 60, tape: POINTS },
  cure: { infrared: { fullMin: 12, halfMin: 3, flashBefore: 'none' } },
}

test.each([
  ['the sheets of the tests', [BASE, CLEAR, SEALER]],
  ['a sheet that uses every form of a figure', [FULL]],
  ['a mix without pot life', [{ ...CLEAR, potLife: null }]],
])('takes %s, as the import does', async (_, sheets) => {
  const valid = await validator()
  expect(check(sheetFileSchema, fileOf(...sheets)).ok).toBe(true)
  expect([valid(fileOf(...sheets)), valid.errors]).toEqual([true, null])
})

test.each([
  ['a field too many', { ...CLEAR, colour: 'red' }, '/sheets/0'],
  ['a word that is not one of them', { ...CLEAR, by: 'eye' }, '/sheets/0/by'],
  ['a figure out of its range', { ...CLEAR, floorMin: 1_441 }, '/sheets/0/floorMin'],
  ['text for a number', { ...CLEAR, solids: '45 %' }, '/sheets/0/solids'],
  [
    'a window of neither word nor points',
    { ...FULL, recoatWithin: 'soon' },
    '/sheets/0/recoatWithin',
  ],
  ['a missing field', { ...CLEAR, stage: undefined }, '/sheets/0'],
])('refuses %s, as the import does', async (_, sheet, at) => {
  const valid = await validator()
  const file = JSON.parse(JSON.stringify(fileOf(sheet)))
  expect(check(sheetFileSchema, file).ok).toBe(false)
  expect(valid(file)).toBe(false)
  expect(valid.errors?.map(({ instancePath }) => instancePath)).toContain(at)
})
