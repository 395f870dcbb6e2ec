import { expect, test } from 'vitest'
import {
  addPanel,
  CLEAR_CUP,
  CLEAR_CURE,
  DOOR,
  JOB,
  mix,
  outsideOf,
  refusalOf,
  said,
  shopWith,
  startCoat,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

/** What the rules say of cups and guns, where no other test says it to the letter. */

const OTHER = 'KKKK2222'
const [OWN_CUP, OTHER_CUP] = ['RRRR2222', 'WWWW3333']
const override = { reason: 'the same by eye' }

/** Two jobs with a color each, and a cup of base for each. */
function twoJobs(own: object, other: object, more: object = {}): Shop {
  const shop = shopWith()
  shop.do('OpenJob', { job: JOB, title: 'Van', colours: [{ key: 'body', ...own }] })
  shop.do('OpenJob', { job: OTHER, title: 'Car', colours: [{ key: 'roof', ...other }] })
  addPanel(shop, [{ stage: 'base', sheet: BASE.sheet, colour: 'body' }])
  mix(shop, OWN_CUP, BASE.sheet, { job: JOB, colour: 'body' })
  return mix(shop, OTHER_CUP, BASE.sheet, { job: OTHER, colour: 'roof', ...more })
}

test('two colors without a code are not equal because neither has one', () => {
  for (const code of ['', '   '])
    expect(() => twoJobs({ code }, { code })).toThrow('data.colours.0.code')
  // Both jobs call their color "body", and neither has said what that is.
  const unsaid = addPanel(shopWith(), [{ stage: 'base', sheet: BASE.sheet, colour: 'body' }])
  unsaid.do('OpenJob', { job: OTHER, title: 'Car' })
  mix(unsaid, OWN_CUP, BASE.sheet, { job: JOB, colour: 'body' })
  mix(unsaid, OTHER_CUP, BASE.sheet, { job: OTHER, colour: 'body' })
  expect(said(startCoat(OWN_CUP)(unsaid.fork()))).toBe('done')
  expect(said(startCoat(OTHER_CUP)(unsaid))).toBe('wrongColour')
  const shop = twoJobs({ code: 'W-2' }, { code: 'W-2' })
  expect(said(startCoat(OTHER_CUP)(shop))).toBe('done')
})

test('a tinted cup of another job goes on with a reason', () => {
  const shop = twoJobs({ code: 'W-2' }, { code: 'W-2' }, { tint: 'T1' })
  const refusal = refusalOf(startCoat(OTHER_CUP)(shop))
  expect([refusal.code, refusal.overridable]).toEqual(['wrongColour', true])
  const [entry] = shop.do('StartCoat', { panels: [DOOR], cup: OTHER_CUP, override })
  expect(entry?.override?.codes).toEqual(['wrongColour'])
})

test('a rinsed gun takes no other color of its product', () => {
  const shop = twoJobs({ code: 'R-1' }, { code: 'W-2' })
  shop.do('LoadGun', { gun: 'gun-1', cup: OTHER_CUP })
  shop.at(1).do('RinseGun', { gun: 'gun-1', solvent: 'thinner' })
  const load = () => shop.fork().send('LoadGun', { gun: 'gun-1', cup: OWN_CUP })
  expect(said(load())).toBe('gunHolds')
  expect(said(startCoat(OWN_CUP, { gun: 'gun-1' })(shop.fork()))).toBe('gunHolds')
  shop.at(2).do('CleanGun', { gun: 'gun-1' })
  expect(said(load())).toBe('done')
})

/** A cup of clear, 2:1 by mass. */
const weighed = (pouredG: readonly number[], more: object = {}): Shop =>
  mix(addPanel(shopWith([{ ...CLEAR, by: 'mass' }]), CLEAR_CURE), CLEAR_CUP, CLEAR.sheet, {
    pouredG,
    ...more,
  })
const judged = (pouredG: readonly number[], more?: object) =>
  said(startCoat(CLEAR_CUP)(weighed(pouredG, more)))

test('two divisions of the scale are within, a tenth of a gram more is not', () => {
  // 10 g of activator are asked for: -5 % are 0.5 g and +10 % are 1 g, two divisions of 1 g are 2 g.
  const scaleG = 1
  expect([judged([20, 8], { scaleG }), judged([20, 7.9], { scaleG })]).toEqual(['done', 'ratioOff'])
  expect([judged([20, 12], { scaleG }), judged([20, 12.1], { scaleG })]).toEqual([
    'done',
    'ratioOff',
  ])
  // A scale of tenths, where nobody said what it shows: two divisions of 2 g of activator are 0.2 g.
  expect([judged([4, 1.8]), judged([4, 1.7])]).toEqual(['done', 'ratioOff'])
})

test('3 % of the full mark of a printed cup are within, a millilitre more is not', () => {
  const child = (ml: number) => {
    const shop = mix(addPanel(shopWith(), CLEAR_CURE), CLEAR_CUP, CLEAR.sheet, {
      pouredG: [200, 0],
    })
    const add = [{ role: 'activator', name: 'activator', ml }]
    shop.do('PourCup', { cup: 'FFFF2222', from: [{ cup: CLEAR_CUP }], add, markMl: 700 })
    return said(startCoat('FFFF2222')(shop))
  }
  // 100 mL are asked for, and 3 % of 700 mL are 21.
  expect([child(79.5), child(78), child(120.5), child(122)]).toEqual([
    'done',
    'ratioOff',
    'done',
    'ratioOff',
  ])
})

const RANGED = {
  ...CLEAR,
  activators: [{ name: 'slow', fromC: 10, toC: 15 }],
  reducers: [{ name: 'slow', fromC: 20, toC: 30 }],
}
const onBench = (shop: Shop, airC: number): Shop => {
  shop.do('ReadClimate', { zone: 'bench', airC, rh: 0.5 })
  return shop
}

test('what is put into a cup later is marked outside its range as well, in the new cup alone', () => {
  const poured = (airC: number, role: string) => {
    const shop = onBench(mix(shopWith([RANGED]), CLEAR_CUP, CLEAR.sheet), airC)
    const add = [{ role, name: 'slow', ml: 20 }]
    const drafts = shop.do('PourCup', { cup: 'FFFF2222', from: [{ cup: CLEAR_CUP }], add })
    return drafts.map(outsideOf)
  }
  expect([poured(20, 'reducer'), poured(20, 'activator')]).toEqual([
    [[], []],
    [[], ['optionOutside']],
  ])
  expect([poured(15, 'reducer'), poured(15, 'activator')]).toEqual([
    [[], ['optionOutside']],
    [[], []],
  ])
})

test('a reducer outside its range is marked, and the mix is made', () => {
  // The sheet has an activator of the same name, for other air.
  const mixed = (airC: number) => {
    const shop = onBench(shopWith([RANGED]), airC)
    const cup = { cup: CLEAR_CUP, sheet: CLEAR.sheet, totalMl: 300, reducer: 'slow' }
    return outsideOf(shop.do('MixCup', cup)[0])
  }
  expect([mixed(19.9), mixed(20), mixed(30), mixed(30.1)]).toEqual([
    ['optionOutside'],
    [],
    [],
    ['optionOutside'],
  ])
})
