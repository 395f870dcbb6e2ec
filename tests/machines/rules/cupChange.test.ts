import { expect, test } from 'vitest'
import {
  addPanel,
  CLEAR_CUP,
  CLEAR_ONLY,
  DOOR,
  mix,
  outsideOf,
  SILL,
  shopWith,
  WING,
} from '../../support/given.ts'
import { CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

/** What is sprayed between the end of a cup, at 60 min, and the next one that a coat goes on from. */

const PASS = [WING, SILL, DOOR]
const FRESH = 'GGGG2222'

/** A pass in which the side and the sill take a minute each, then the door three; a fresh cup is at hand. */
function passFrom(startMin: number): Shop {
  const shop = shopWith()
  addPanel(shop, CLEAR_ONLY, { areaM2: 1.5 })
  addPanel(shop, CLEAR_ONLY, { panel: WING, name: 'Side' })
  addPanel(shop, CLEAR_ONLY, { panel: SILL, name: 'Sill', areaM2: 0.2 })
  mix(shop, CLEAR_CUP, CLEAR.sheet)
  mix(shop.at(50), FRESH, CLEAR.sheet)
  shop.at(startMin).do('StartCoat', { panels: PASS, cup: CLEAR_CUP })
  return shop
}
const marks = (shop: Shop, atMin: number) =>
  shop.at(atMin).do('ContinueCoat', { panels: PASS, cup: FRESH }).map(outsideOf)

test.each([
  ['before its end', 59, []],
  ['at its end', 60, []],
  ['after it', 61, ['potLifeOver']],
])('another cup taken up %s: it is said of the panel that was being sprayed', (_, atMin, door) => {
  const shop = passFrom(55)
  expect(marks(shop, atMin)).toEqual([[], [], door])
  // From there on it is the other cup's: its finish says nothing of the first one again.
  expect(shop.at(70).do('FinishCoat', { panels: PASS }).flatMap(outsideOf)).toEqual([])
})

test('what the pass has not come to by then was not sprayed from the cup that was over', () => {
  expect(marks(passFrom(59), 61)).toEqual([[], ['potLifeOver'], []])
})

test('what was sprayed on after the end of the other cup too is said of both', () => {
  const shop = passFrom(55)
  expect(marks(shop, 61)[2]).toEqual(['potLifeOver'])
  const finishes = shop.at(112).do('FinishCoat', { panels: PASS })
  expect(finishes.map(outsideOf)[2]).toEqual(['potLifeOver'])
})
