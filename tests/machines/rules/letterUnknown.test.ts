import { expect, test } from 'vitest'
import {
  addPanel,
  air,
  CLEAR_CUP,
  CLEAR_CURE,
  CLEAR_ONLY,
  coat,
  DOOR,
  dueMin,
  JOB,
  MS,
  mix,
  outsideOf,
  said,
  shopWith,
  startCoat,
  vanWith,
  WING,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

/** What the rules say of what is not known, where no other test says it to the letter. */

const LASTING = { ...CLEAR, potLife: [{ atC: 20, minutes: 3_000 }] }

test('a surface that was measured before a bake in its zone holds ten minutes', () => {
  // A door is baked for a moment, too short to make the side hot; its surface was measured at minute 30.
  const shop = addPanel(shopWith([LASTING]), CLEAR_CURE)
  addPanel(mix(shop, CLEAR_CUP, CLEAR.sheet), CLEAR_ONLY, { panel: WING, name: 'Side' })
  coat(coat(shop, CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
  shop.do('SetHeatLimit', { job: JOB, maxC: null })
  air(shop, 30, 20)
  shop.do('ReadPart', { panel: WING, partC: 15 })
  const judged = (baked: boolean, min: number) => {
    const copy = shop.fork().at(31)
    if (baked) {
      copy.do('StartCure', { panels: [DOOR], mode: 'bake', setC: 60 })
      copy.at(32).do('EndCure', { panels: [DOOR] })
    }
    air(copy, 33, 20)
    return copy.at(min).do('StartCoat', { panels: [WING], cup: CLEAR_CUP })[0]?.notJudged
  }
  expect([judged(false, 40 - MS), judged(false, 40)]).toEqual([undefined, undefined])
  expect([judged(true, 40 - MS), judged(true, 40)]).toEqual([undefined, ['dewPoint']])
})

test('a clock runs blind from thirty minutes after the last reading, to the millisecond', () => {
  // At 30 °C the flash takes 30 min, by the sheet's first figure 60. It begins with the reading.
  const flashBetween = [
    { atC: 20, minutes: 60 },
    { atC: 30, minutes: 30 },
  ]
  const flash = (readAtMin: number) => {
    const shop = vanWith(CLEAR_ONLY, [{ ...CLEAR, limits: {}, flashBetween }])
    return dueMin(coat(air(shop, readAtMin, 30), CLEAR_CUP, 4, 5), 'coatReady')
  }
  expect(flash(5)).toBe(5 + 30)
  // A second of it is left when the reading is thirty minutes old: as it is a sixtieth of a half, two.
  expect(flash(5 - 1 / 60)).toBe(5 + 30 + 1 / 60)
})

test('a waterborne product without activator is judged by the temperature of its part as well', () => {
  const water = {
    ...BASE,
    ...{ sheet: 'water', medium: 'waterborne', limits: {}, activators: [] },
    components: [{ name: 'Base', role: 'base', parts: 1 }],
  }
  const van = (surfaceC: number): Shop => {
    const shop = vanWith([{ stage: 'base', sheet: 'water' }], [water])
    return air(mix(shop, 'WWWW2222', 'water'), 1, 20, 0.2, { surfaceC })
  }
  const start = startCoat('WWWW2222')
  const marks = (surfaceC: number) =>
    outsideOf(van(surfaceC).do('StartCoat', { panels: [DOOR], cup: 'WWWW2222' })[0])
  expect([said(start(van(9.9))), said(start(van(10)))]).toEqual(['partTemp', 'done'])
  expect([marks(14.9), marks(15), marks(35), marks(35.1)]).toEqual([
    ['partTemp'],
    [],
    [],
    ['partTemp'],
  ])
  expect([said(start(van(45))), said(start(van(45.1)))]).toEqual(['done', 'partTemp'])
})
