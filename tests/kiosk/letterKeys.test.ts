import { expect, test } from 'vitest'
import { beforeStart } from '../../kiosk/lanes/beforeStart.ts'
import { lanesOf } from '../../kiosk/lanes/lanes.ts'
import { passActs } from '../../kiosk/lanes/pass.ts'
import { actsIn } from '../../kiosk/words/acts.ts'
import { en } from '../../kiosk/words/all.ts'
import { BELLS } from '../../machines/bell/kinds.ts'
import { deadlines } from '../../machines/deadlines.ts'
import {
  addPanel,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_ONLY,
  coat,
  DOOR,
  mix,
  shopWith,
  WING,
} from '../support/given.ts'
import { BASE, CLEAR } from '../support/sheets.ts'
import { minute, type Shop } from '../support/shop.ts'

/** What the rules want said or asked before a press, where no other test says it to the letter. */

const ONE = { least: 1, planned: 1, most: 2 }

test('taking a nib out of a midcoat asks whether it went through to the ground', () => {
  const MID = { ...BASE, sheet: 'mid-pearl', name: 'Pearl midcoat', stage: 'midcoat' }
  const shop = addPanel(shopWith([BASE, MID, CLEAR]), [
    { stage: 'base', sheet: BASE.sheet, coats: ONE },
    { stage: 'midcoat', sheet: MID.sheet, coats: ONE },
    ...CLEAR_ONLY,
  ])
  mix(mix(shop, BASE_CUP, BASE.sheet), 'MMMM2222', MID.sheet)
  const denibs = (min: number) =>
    passActs(shop.state, lanesOf(shop.state, minute(min)), en, minute(min))
      .filter(({ type }) => type === 'DenibPanel')
      .map(({ datas }) => datas[0])
  coat(shop, BASE_CUP, 1, 3)
  expect(denibs(20)).toEqual([{ panel: DOOR }])
  coat(shop, 'MMMM2222', 20, 22)
  expect(denibs(40)).toEqual([{ panel: DOOR }, { panel: DOOR, toGround: true }])
})

test('before a pass it is said for how many of its panels the cup lasts', () => {
  const shop = shopWith()
  for (const [panel, name] of [
    [DOOR, 'Door'],
    [WING, 'Side'],
  ] as const)
    addPanel(shop, CLEAR_ONLY, { panel, name, areaM2: 1 })
  mix(shop, CLEAR_CUP, CLEAR.sheet, { totalMl: 1_000 })
  const said = (min: number) =>
    beforeStart(
      shop.state,
      { panels: [DOOR, WING], cup: CLEAR_CUP },
      en,
      minute(min),
      (ml) => `${ml} mL`,
    )
  const { before } = actsIn(en)
  // Two minutes a panel, and the cup ends at 60: exactly long enough, a moment too short, for none.
  expect([said(56), said(56.01), said(58), said(58.01)]).toEqual([
    [],
    [before.lasts(1, 2)],
    [before.lasts(1, 2)],
    [before.lasts(0, 2)],
  ])
  const [started] = shop.at(57).do('StartCoat', { panels: [DOOR, WING], cup: CLEAR_CUP })
  expect(started?.data).toMatchObject({ warnings: ['cupEndsDuringCoat'], cupLastsFor: 1 })
})

test('the line of the mask is no bell: nothing of it can be put off', () => {
  const shop: Shop = addPanel(shopWith(), CLEAR_ONLY)
  coat(mix(shop, CLEAR_CUP, CLEAR.sheet), CLEAR_CUP, 1, 3)
  shop.do('SaveZone', { zone: 'booth', clearanceMin: 20 })
  expect(Object.keys(BELLS).filter((bell) => /breath|clear|mask/i.test(bell))).toEqual([])
  expect(deadlines(shop.state).filter(({ thing }) => (thing.kind as string) === 'zone')).toEqual([])
})
