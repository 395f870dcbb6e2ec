import { describe, expect, test } from 'vitest'
import {
  around,
  CLEAR_CUP,
  CLEAR_CURE,
  coat,
  DOOR,
  dueMin,
  mix,
  said,
  startCoat,
  vanWith,
} from '../../support/given.ts'
import { CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

/** The sheet's own figures, an activator that is quicker and one that is slower than them. */
const at20 = (minutes: number) => [{ atC: 20, minutes }]
const option = (name: string, minutes: number) => ({
  name,
  fromC: 10,
  toC: 35,
  flashBetween: at20(minutes),
  flashBeforeNext: at20(minutes),
  cure: {
    air: at20(60 * minutes),
    bake: [{ tempC: 60, minutes: 3 * minutes, basis: 'part', flashBefore: minutes }],
  },
})
const MIXED = {
  ...CLEAR,
  potLife: at20(600),
  activators: [option('quick', 4), option('slow', 20)],
  reducers: [option('thin', 15)],
}
const QUICK = 'AAAA2222'
const SLOW = 'BBBB3333'
const CHILD = 'KKKK2222'

/** A cup of each activator; the usual one has no figure of its own and uses the sheet's: 10 min. */
function shopOfMixes(): Shop {
  const shop = vanWith(CLEAR_CURE, [MIXED])
  mix(shop, QUICK, CLEAR.sheet, { activator: 'quick' })
  return mix(shop, SLOW, CLEAR.sheet, { activator: 'slow' })
}
const joined = (from: readonly string[], more: object = {}): Shop => {
  const shop = shopOfMixes().at(1)
  shop.do('PourCup', { cup: CHILD, from: from.map((cup) => ({ cup })), ...more })
  return shop
}
/** When the door may have its second coat, after the first from a cup that ended at minute 5. */
const flashedAt = (shop: Shop, cup: string): number | undefined =>
  dueMin(coat(shop, cup, 2, 5), 'coatReady')

describe('a cup that was joined of mixes with different activators', () => {
  test.each([
    ['the quick one alone', [QUICK], 4],
    ['the slow one alone', [SLOW], 20],
    ['quick and slow', [QUICK, SLOW], 20],
    ['slow and quick', [SLOW, QUICK], 20],
    ["quick, and one that goes by the sheet's own figure", [QUICK, CLEAR_CUP], 10],
    ["one that goes by the sheet's own figure, and quick", [CLEAR_CUP, QUICK], 10],
  ])('flashes by the slowest: %s', (_, from, minutes) => {
    expect(flashedAt(joined(from), CHILD)).toBe(5 + minutes)
  })

  test('keeps that in the cup that is poured of it', () => {
    const shop = joined([QUICK, SLOW])
    shop.do('PourCup', { cup: 'MMMM2222', from: [{ cup: CHILD, ml: 100 }] })
    expect(flashedAt(shop, 'MMMM2222')).toBe(25)
  })

  test('topped up with another activator or reducer it has both', () => {
    const add = (role: string, name: string) => ({ add: [{ role, name, ml: 20 }] })
    expect(flashedAt(joined([QUICK], add('activator', 'slow')), CHILD)).toBe(25)
    expect(flashedAt(joined([SLOW], add('activator', 'quick')), CHILD)).toBe(25)
    expect(flashedAt(joined([QUICK], add('reducer', 'thin')), CHILD)).toBe(20)
  })

  test('a coat that went on from a cup of one and a cup of the other flashes by the slower', () => {
    const shop = shopOfMixes()
    shop.at(2).do('StartCoat', { panels: [DOOR], cup: SLOW })
    shop.at(3).do('ContinueCoat', { panels: [DOOR], cup: QUICK })
    shop.at(5).do('FinishCoat', { panels: [DOOR] })
    expect(dueMin(shop, 'coatReady')).toBe(25)
  })
})

describe('the cure of a film that holds both activators', () => {
  /** Two coats of it, the last of which ended at minute 40. */
  const coated = (from: readonly string[]): Shop =>
    coat(coat(joined(from), CHILD, 2, 5), CHILD, 35, 40)
  const bake = (shop: Shop) => shop.send('StartCure', { panels: [DOOR], mode: 'bake' })

  test('is ready to bake only when the slower one has flashed', () => {
    expect(around(coated([QUICK, SLOW]), 60, bake)).toEqual(['flashNotOver', 'done'])
    expect(around(coated([QUICK]), 44, bake)).toEqual(['flashNotOver', 'done'])
  })

  test('bakes as long as the slower wants', () => {
    for (const from of [
      [QUICK, SLOW],
      [SLOW, QUICK],
    ]) {
      const shop = coated(from).at(60)
      bake(shop)
      shop.do('ReadPart', { panel: DOOR })
      expect(dueMin(shop, 'cureOver')).toBe(120)
    }
  })

  test('takes the air cure of the slower', () => {
    const shop = coated([QUICK, SLOW]).at(60)
    expect(said(shop.send('StartCure', { panels: [DOOR], mode: 'air' }))).toBe('done')
    expect(dueMin(shop, 'cureOver')).toBe(60 + 1200)
  })

  test('is not offered where one of them does not allow that cure', () => {
    const lamp = { infrared: { minutes: 10, flashBefore: 5 } }
    const cure = { ...option('quick', 4).cure, ...lamp }
    const sheet = { ...MIXED, activators: [{ ...option('quick', 4), cure }, option('slow', 20)] }
    const shop = vanWith(CLEAR_CURE, [sheet])
    mix(shop, QUICK, CLEAR.sheet, { activator: 'quick' })
    mix(shop, SLOW, CLEAR.sheet, { activator: 'slow' })
    shop.do('PourCup', { cup: CHILD, from: [{ cup: QUICK, ml: 100 }, { cup: SLOW }] })
    const dry = (cup: string) => coat(coat(shop.fork(), cup, 2, 5), cup, 35, 40).at(90)
    const underLamp = (s: Shop) => said(s.send('StartCure', { panels: [DOOR], mode: 'infrared' }))
    expect([underLamp(dry(QUICK)), underLamp(dry(CHILD))]).toEqual(['done', 'noSuchCure'])
  })
})

test('where the activator and the reducer of one mix both carry a figure, the more cautious binds', () => {
  const shop = vanWith(CLEAR_CURE, [MIXED])
  mix(shop, QUICK, CLEAR.sheet, { activator: 'quick', reducer: 'thin' })
  coat(coat(shop, QUICK, 2, 5), QUICK, 35, 40)
  shop.at(60).do('StartCure', { panels: [DOOR], mode: 'air' })
  expect(dueMin(shop, 'cureOver')).toBe(60 + 900)
})

test('a coat over the joined film is refused until the slower has flashed', () => {
  const shop = coat(joined([QUICK, SLOW]), CHILD, 2, 5)
  expect(around(shop, 25, startCoat(CLEAR_CUP))).toEqual(['flashNotOver', 'done'])
})
