import { expect, test } from 'vitest'
import { lanesOf } from '../../kiosk/lanes/lanes.ts'
import { passActs, startOfOthers } from '../../kiosk/lanes/pass.ts'
import { en } from '../../kiosk/words/all.ts'
import {
  addPanel,
  CLEAR_CUP,
  CLEAR_ONLY,
  coat,
  DOOR,
  mix,
  SILL,
  shopWith,
  WING,
} from '../support/given.ts'
import { CLEAR } from '../support/sheets.ts'

test('a pass that is refused for one panel offers the start of the others', () => {
  const shop = shopWith()
  addPanel(shop, CLEAR_ONLY)
  addPanel(shop, CLEAR_ONLY, { panel: WING, name: 'Side' })
  addPanel(shop, CLEAR_ONLY, { panel: SILL, name: 'Sill' })
  mix(shop, CLEAR_CUP, CLEAR.sheet)
  coat(shop, CLEAR_CUP, 1, 5, { panels: [WING] }).at(6)
  const ask = { panels: [DOOR, WING, SILL], cup: CLEAR_CUP }
  const answer = shop.send('StartCoat', ask)
  const refused = 'refusal' in answer ? (answer.refusal.panels ?? []) : []
  expect(refused).toEqual([WING])
  const lanes = lanesOf(shop.state, shop.now)
  // All three are at their first or second coat of the same product.
  const acts = passActs(
    shop.state,
    lanes.map((lane) => ({ ...lane, coatsOn: 0 })),
    en,
    shop.now,
  )
  const others = startOfOthers(acts, refused)
  expect(others?.panels.toSorted()).toEqual([DOOR, SILL].toSorted())
  expect(shop.send('StartCoat', others)).toHaveProperty('drafts')
  expect(startOfOthers(acts, [])).toBeNull()
  expect(startOfOthers(acts, [DOOR, WING, SILL])).toBeNull()
})
