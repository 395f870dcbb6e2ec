import { expect, test } from 'vitest'
import { cautionsFor, cautionsOfWork, cautionsOnLabel } from '../../kiosk/lanes/cautions.ts'
import { lanesOf } from '../../kiosk/lanes/lanes.ts'
import { currentSheets } from '../../machines/plan/route.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { minute, Shop } from '../support/shop.ts'

/** What hurts is said where the work is: every caution that a product or a step calls for. */

const QUARTER = 'REARQTR2'
const CUP = 'K7QDM2XV'

function shopWith(route: readonly object[]): Shop {
  const shop = new Shop()
  for (const sheet of [CLEAR, BASE]) shop.do('SaveSheet', { sheet })
  shop.do('OpenJob', { job: 'VANREAR2', title: 'Delivery van' })
  const panel = { job: 'VANREAR2', panel: QUARTER, name: 'Rear quarter', operation: 'repair' }
  shop.do('AddPanel', { ...panel, areaM2: 1, route })
  return shop
}
const sheetIn = (shop: Shop, id: string): Sheet => {
  const found = currentSheets(shop.state).find(({ sheet }) => sheet === id)
  if (found === undefined) throw new Error(`no sheet ${id}`)
  return found
}
const atWork = (shop: Shop, min: number) =>
  cautionsOfWork(shop.state, lanesOf(shop.state, minute(min)), minute(min))

test('a mix has isocyanate and solvent by its sheet’s hazards; never seal what is activated', () => {
  const shop = shopWith([{ stage: 'clear', sheet: CLEAR.sheet }])
  const clear = sheetIn(shop, CLEAR.sheet)
  expect(cautionsFor(clear, true)).toEqual({
    isMissing: false,
    names: ['isocyanate', 'solvent', 'sealed', 'first'],
  })
  expect(cautionsFor(sheetIn(shop, BASE.sheet), false).names).toEqual(['solvent', 'first'])
  const water: Sheet = {
    ...clear,
    medium: 'waterborne',
    hazards: { signal: 'WARNING', pictograms: [], isocyanate: false, words: '-' },
  }
  expect(cautionsFor(water, false).names).toEqual(['first'])
})

test('a sheet without hazards is treated as danger', () => {
  const { hazards: _, ...bare } = sheetIn(shopWith([{ stage: 'sand' }]), CLEAR.sheet)
  for (const sheet of [bare as Sheet, undefined])
    expect(cautionsFor(sheet, false)).toEqual({
      isMissing: true,
      names: ['isocyanate', 'solvent', 'sealed', 'first'],
    })
})

test('a start names the isocyanate and the fire of its product, and once that the sheets come first', () => {
  const shop = shopWith([{ stage: 'clear', sheet: CLEAR.sheet }])
  expect(atWork(shop, 0)).toEqual(['isocyanate', 'solvent', 'first'])
  expect(atWork(shopWith([{ stage: 'base', sheet: BASE.sheet }]), 0)).toEqual(['solvent', 'first'])
})

test('sanding names the dust mask, also where a closed window asks for it before the next coat', () => {
  expect(atWork(shopWith([{ stage: 'sand' }]), 0)).toEqual(['dust'])
  const route = [{ stage: 'clear', sheet: CLEAR.sheet, coats: { least: 2, planned: 2, most: 2 } }]
  const shop = shopWith(route)
  shop.do('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 300, activator: 'standard' })
  shop.do('StartCoat', { panels: [QUARTER], cup: CUP })
  shop.at(2).do('FinishCoat', { panels: [QUARTER] })
  const late = 60 * 24 * 4
  expect(lanesOf(shop.state, minute(late))[0]?.waits.for).toBe('abrade')
  expect(atWork(shop, late)).toEqual(['dust', 'isocyanate', 'solvent', 'first'])
})

test('heat names what it can set alight', () => {
  expect(atWork(shopWith([{ stage: 'cure', sheet: CLEAR.sheet }]), 0)).toEqual(['bake'])
})

test('a label of a cup that is not known here says what stands on it, and danger where it says nothing', () => {
  expect(cautionsOnLabel({ signal: 'danger', isocyanate: true, pictograms: ['flame'] })).toEqual([
    'isocyanate',
    'solvent',
    'sealed',
    'first',
  ])
  expect(cautionsOnLabel({ signal: 'warning', isocyanate: false, pictograms: [] })).toEqual([
    'sealed',
    'first',
  ])
  expect(cautionsOnLabel({ signal: 'missing', isocyanate: false, pictograms: [] })).toEqual([
    'isocyanate',
    'solvent',
    'sealed',
    'first',
  ])
})
