import { expect, test } from 'vitest'
import { deadlines } from '../../../machines/deadlines.ts'
import { airMissing } from '../../../machines/standing.ts'
import type { State } from '../../../machines/state.ts'
import {
  air,
  CLEAR_CUP,
  CLEAR_ONLY,
  coat,
  evictedState,
  mix,
  shopWith,
  vanWith,
} from '../../support/given.ts'
import { CLEAR } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

/** A zone's first reading holds back over all that was before it, also once the past was evicted. */

const DAY = 24 * 60

/** A coat whose window stood for two days, in a booth that was set up and where no air was read. */
function unread(): Shop {
  const sheet = { ...CLEAR, recoatWithin: [{ atC: 20, minutes: 2 * DAY }] }
  const shop = vanWith(CLEAR_ONLY, [sheet])
  shop.do('SaveZone', { zone: 'booth', name: 'Booth' })
  return coat(shop, CLEAR_CUP, 5, 10)
}
const ofPanels = (state: State) => deadlines(state).filter(({ thing }) => thing.kind === 'panel')

test('where nobody ever reads the air nothing of it is missed under a clock of days ago', () => {
  const shop = shopWith()
  shop.do('SaveZone', { zone: 'bench', name: 'Bench' })
  mix(shop, CLEAR_CUP, CLEAR.sheet)
  const held = evictedState(shop, 5 * DAY)
  expect(airMissing(held, [{ kind: 'cup', id: CLEAR_CUP }], minute(5 * DAY))).toEqual([])
})

test('a clock from before it is the same with all readings and with what is held of them', () => {
  const shop = [16, 17, 25, 29].reduce((s, day) => air(s, day * DAY, 10 + day), unread())
  expect(ofPanels(evictedState(shop, 30 * DAY))).toEqual(ofPanels(shop.state))
})
