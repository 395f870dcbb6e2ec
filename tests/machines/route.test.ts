import * as v from 'valibot'
import { describe, expect, test } from 'vitest'
import { usualRoute } from '../../machines/plan/usualRoute.ts'
import { sheetSchema } from '../../machines/sheet/sheetSchema.ts'
import { BASE, CLEAR, SEALER } from '../support/sheets.ts'
import { Shop } from '../support/shop.ts'
import { madeContext } from '../support/things.ts'

const sheets = [SEALER, BASE, CLEAR].map((sheet) => v.parse(sheetSchema, sheet))
const stages = (...asked: Parameters<typeof usualRoute>) => usualRoute(...asked).map((s) => s.stage)

/** The usual order of work: common practice, no source. */
describe('the usual route', () => {
  test('of a new part is sealed, based, cleared, cured and polished', () => {
    expect(stages('new-part', false, sheets)).toEqual([
      'prep',
      'sealer',
      'base',
      'clear',
      'cure',
      'polish',
    ])
  })

  test('leaves out what the shop has no sheet for, and does not prepare twice in a row', () => {
    expect(stages('repair', false, sheets)).toEqual(['prep', 'base', 'clear', 'cure', 'polish'])
    expect(stages('new-part', true, sheets)).toEqual(['prep', 'base', 'clear', 'cure'])
  })

  test('of a blend bases the spot and clears the whole panel, in the job’s color', () => {
    const route = usualRoute('blend', false, sheets, 'body')
    expect(route.find((s) => s.stage === 'base')).toMatchObject({ face: 'spot', colour: 'body' })
    expect(route.find((s) => s.stage === 'clear')).toMatchObject({ face: 'whole' })
  })
})

/** The sheet: at least 2, planned 2, at most 4. */
test.each([
  [undefined, { least: 2, planned: 2, most: 4 }],
  [1, { least: 1, planned: 1, most: 4 }],
  [5, { least: 2, planned: 5, most: 5 }],
  [{ planned: 3 }, { least: 2, planned: 3, most: 4 }],
  [{ least: 3 }, { least: 3, planned: 3, most: 4 }],
  [{ most: 1 }, { least: 1, planned: 1, most: 1 }],
  [
    { least: 1, planned: 1, most: 1 },
    { least: 1, planned: 1, most: 1 },
  ],
])('coats of a step given as %j stand beside the sheet’s as %j', (coats, expected) => {
  const shop = new Shop()
  shop.do('SaveSheet', { sheet: BASE })
  shop.do('OpenJob', { job: 'VANREAR2', title: 'Delivery van' })
  const step = { stage: 'base', sheet: BASE.sheet, ...(coats === undefined ? {} : { coats }) }
  const data = { job: 'VANREAR2', panel: 'REARQTR2', name: 'Rear quarter', operation: 'repair' }
  shop.do('AddPanel', { ...data, route: [step] })
  const panel = madeContext(shop.state, 'panel', 'REARQTR2')
  expect(panel.route[0]?.coats).toEqual(expected)
})

test('coats that contradict each other are refused with what is accepted', () => {
  const step = { stage: 'base', coats: { least: 3, planned: 2 } }
  expect(() =>
    new Shop().parse('AddPanel', {
      job: 'VANREAR2',
      panel: 'REARQTR2',
      name: 'Rear quarter',
      operation: 'repair',
      route: [step],
    }),
  ).toThrow('least not above planned')
})
