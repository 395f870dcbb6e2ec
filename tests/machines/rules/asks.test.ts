import { describe, expect, test } from 'vitest'
import {
  addPanel,
  air,
  CLEAR_CUP,
  CLEAR_ONLY,
  DOOR,
  MS,
  mix,
  queued,
  vanWith,
  WING,
} from '../../support/given.ts'
import type { Shop } from '../../support/shop.ts'

/** What the sheet of a start asks for, and that it asks it no oftener than it has to. */

const DAY = 1_440
const van = (): Shop => addPanel(vanWith(CLEAR_ONLY), CLEAR_ONLY, { panel: WING, name: 'Wing' })
const asked = (shop: Shop, panel = DOOR, cup = CLEAR_CUP) =>
  shop.do('StartCoat', { panels: [panel], cup })[0]?.data.asked
const range = (shop: Shop, more: object = {}) =>
  shop.do('SetDayRange', { zone: 'booth', minC: 15, maxC: 25, ...more })

describe("the day's range", () => {
  test('is asked for once a day and zone, and no start is refused for it', () => {
    const shop = van()
    expect(asked(shop.at(1))).toEqual(['dayRange'])
    expect(asked(shop.at(2), WING)).toBeUndefined()
    shop.at(DAY).do('FinishCoat', { panels: [WING] })
    mix(shop.at(DAY + 1), 'CCCC3333', 'clear-2k')
    const more = { route: CLEAR_ONLY, job: 'JJJJ2222', operation: 'repair', panel: 'NNNN2222' }
    shop.do('AddPanel', { ...more, name: 'Roof' })
    expect(asked(shop, 'NNNN2222', 'CCCC3333')).toEqual(['dayRange'])
  })

  test('is not asked for while one holds', () => {
    const shop = van()
    range(shop)
    expect(asked(shop.at(1))).toBeUndefined()
  })

  test('is asked for in each zone', () => {
    const shop = van()
    asked(shop.at(1))
    shop.do('MovePanel', { panel: WING, zone: 'bay' })
    expect(asked(shop.at(2), WING)).toEqual(['dayRange'])
  })

  test('a start that was voided asked nothing', () => {
    const shop = van()
    const [started] = shop.at(1).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    shop.at(2).do('VoidEntry', { entry: started?.id, reason: 'slip' })
    expect(asked(shop.at(3), WING)).toEqual(['dayRange'])
  })

  test('what is sent late was asked nothing', () => {
    const [late] = queued(van().at(60), 20, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    expect(late?.data.asked).toBeUndefined()
  })
})

describe('a reading of the air', () => {
  test('is asked for where there is an instrument whose last word is thirty minutes old', () => {
    const shop = air(van(), 1, 20)
    range(shop)
    expect(asked(shop.fork().at(31 - MS))).toEqual(['surface'])
    expect(asked(shop.fork().at(31))).toEqual(['air'])
  })

  test('together with the range, where none holds', () => {
    expect(asked(air(van(), 1, 20).at(31))).toEqual(['air', 'dayRange'])
  })

  test('not where nothing was read for a week: there is none any more', () => {
    const shop = air(van(), 1, 20).at(7 * DAY + 1)
    mix(shop, 'CCCC3333', 'clear-2k')
    range(shop)
    expect(asked(shop.fork(), DOOR, 'CCCC3333')).toBeUndefined()
  })
})
