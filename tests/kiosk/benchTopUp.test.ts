import { expect, test } from 'vitest'
import { additionsFor, missingIn, oneOfEachRole, pourStart } from '../../kiosk/bench/cups.ts'
import { currentSheets } from '../../machines/plan/route.ts'
import { CLEAR } from '../support/sheets.ts'
import { Shop } from '../support/shop.ts'
import { madeContext } from '../support/things.ts'

/**
 * What the form of a pour fills in for a cup that is off its ratio. The clear is 2:1 by volume, 1.00 and 1.05 g/mL: 200 g
 * are 200 mL, which take 100 mL of activator.
 */

const CUP = 'K7QDM2XV'
const OTHER = 'M3TDM2XV'
type Weighed = { readonly pouredG?: readonly number[]; readonly activator?: string }

function shopWith(cups: Readonly<Record<string, Weighed>>, change: object = {}) {
  const shop = new Shop()
  shop.do('SaveSheet', { sheet: { ...CLEAR, ...change } })
  for (const [cup, weighed] of Object.entries(cups))
    shop.do('MixCup', { cup, sheet: CLEAR.sheet, totalMl: 300, activator: 'slow', ...weighed })
  const sheet = currentSheets(shop.state)[0]
  const held = new Map(Object.keys(cups).map((id) => [id, madeContext(shop.state, 'cup', id)]))
  const start = (id = CUP) => {
    const cup = madeContext(shop.state, 'cup', id)
    return pourStart(sheet, id, cup, cup)
  }
  return { sheet, held, start }
}

test.each([
  ['too much activator takes base', [200, 126], [{ role: 'base', name: 'clear' }], 40],
  ['too little takes more of the same', [200, 84], [{ role: 'activator', name: 'slow' }], 20],
])('%s', (_, pouredG, add, ml) => {
  const { sheet, held, start } = shopWith({ [CUP]: { pouredG } })
  const from = [{ cup: CUP, ml: '' }]
  expect(start()).toEqual({ from, add: add.map((one) => ({ ...one, ml: '' })) })
  const name = add[0]?.name
  const filled = additionsFor(sheet, from, held).find((one) => one.name === name)
  expect(filled?.ml).toBe(ml)
  // As a scale shows it, by its density.
  expect(filled?.g).toBeCloseTo(ml * (name === 'clear' ? 1 : 1.05), 6)
})

test('of a part of a cup it takes a part of that', () => {
  const { sheet, held } = shopWith({ [CUP]: { pouredG: [200, 126] } })
  expect(missingIn(sheet, [{ cup: CUP, ml: 150 }], held)).toMatchObject([{ name: 'clear', ml: 20 }])
})

test('two cups that are right together are short of nothing', () => {
  const { sheet, held, start } = shopWith({
    [CUP]: { pouredG: [200, 126] },
    [OTHER]: { pouredG: [200, 84] },
  })
  const both = [{ cup: CUP }, { cup: OTHER }]
  expect(missingIn(sheet, both, held)).toEqual([])
  expect(missingIn(sheet, both.slice(0, 1), held)).toHaveLength(1)
  // What was filled in for one of them goes once the other is chosen: it could not be left out any more.
  const filled = start()
  expect(filled.add).toHaveLength(1)
  expect(oneOfEachRole(filled, additionsFor(sheet, both, held))).toEqual({ ...filled, add: [] })
  expect(oneOfEachRole(filled, additionsFor(sheet, filled.from, held))).toEqual(filled)
})

test.each<[string, Weighed]>([
  ['within its tolerance', { pouredG: [200, 106] }],
  ['that was not weighed', {}],
])('a cup %s is filled in with nothing', (_, weighed) => {
  expect(shopWith({ [CUP]: weighed }).start().add).toEqual([])
})

test('parts by weight are asked for in mL by their density', () => {
  const { sheet, held } = shopWith({ [CUP]: { pouredG: [200, 126] } }, { by: 'mass' })
  // 126 g of activator take 252 g of clear: 52 g more, at 1.00 g/mL.
  expect(missingIn(sheet, [{ cup: CUP }], held)).toMatchObject([{ name: 'clear', ml: 52 }])
})
