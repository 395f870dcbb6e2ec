import { expect, test } from 'vitest'
import { mixNames, outlivedBy } from '../../kiosk/lanes/cups.ts'
import { lanesOf } from '../../kiosk/lanes/lanes.ts'
import { startsFrom } from '../../kiosk/scan/starts.ts'
import { en } from '../../kiosk/words/all.ts'
import { cupEndsAt } from '../../machines/cup/ends.ts'
import { addPanel, CLEAR_CUP, CLEAR_ONLY, DOOR, shopWith } from '../support/given.ts'
import { minute, type Shop } from '../support/shop.ts'
import { madeContext } from '../support/things.ts'

/** Clear on the door from a cup of this age, a minute before `min`; then who outlives the cup. */
function outlived(mixedMin: number, finishMin: number) {
  const shop = addPanel(shopWith(), CLEAR_ONLY)
  shop.at(mixedMin).do('MixCup', { cup: CLEAR_CUP, sheet: 'clear-2k', totalMl: 300 })
  shop.at(finishMin - 1).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
  shop.at(finishMin).do('FinishCoat', { panels: [DOOR] })
  const cup = madeContext(shop.state, 'cup', CLEAR_CUP)
  const endsAt = cupEndsAt(shop.state, cup) as number
  return {
    found: outlivedBy(shop.state, lanesOf(shop.state, minute(finishMin)), cup, endsAt),
    endsAt,
  }
}

test('a cup that ends before the next coat is due is shown as too short for it', () => {
  const { found, endsAt } = outlived(0, 58)
  expect(found.map(({ lane }) => lane.panel)).toEqual([DOOR])
  expect(found[0]?.from).toBeGreaterThan(endsAt)
})

test('a cup that lasts long enough is not', () => {
  expect(outlived(0, 10).found).toEqual([])
})

test('nor is one of another material, however old', () => {
  const shop = addPanel(shopWith(), CLEAR_ONLY)
  shop.do('MixCup', { cup: CLEAR_CUP, sheet: 'clear-2k', totalMl: 300 })
  const cup = madeContext(shop.state, 'cup', CLEAR_CUP)
  const lanes = lanesOf(shop.state, minute(0)).map((lane) => ({
    ...lane,
    waits: { for: 'flash', until: minute(90) } as const,
  }))
  expect(outlivedBy(shop.state, lanes, cup, minute(60))).toHaveLength(1)
  expect(outlivedBy(shop.state, lanes, { ...cup, sheet: 'sealer-2k' }, minute(60))).toEqual([])
})

const SLOW_CUP = 'SSSS2222'
const JOINED = 'JJJJ2222'
const cupOf = (shop: Shop, id: string) => madeContext(shop.state, 'cup', id)

test('a cup joined of two activators names both, one of a single mix its own', () => {
  const shop = shopWith()
  const mix = (cup: string, activator: string) =>
    shop.do('MixCup', { cup, sheet: 'clear-2k', totalMl: 300, activator })
  mix(CLEAR_CUP, 'standard')
  mix(SLOW_CUP, 'slow')
  expect(mixNames(cupOf(shop, CLEAR_CUP))).toEqual(['standard'])
  shop.do('PourCup', { cup: JOINED, from: [{ cup: CLEAR_CUP }, { cup: SLOW_CUP }] })
  expect(mixNames(cupOf(shop, JOINED))).toEqual(['standard + slow'])
})

test('a coat is offered only while its cup can be sprayed', () => {
  const shop = addPanel(shopWith(), CLEAR_ONLY)
  shop.do('MixCup', { cup: CLEAR_CUP, sheet: 'clear-2k', totalMl: 300 })
  const said = (min: number) =>
    startsFrom(shop.state, CLEAR_CUP, en, minute(min)).map((start) => start.mayGoOn)
  expect(said(10)).toEqual([true])
  const endsAt = cupEndsAt(shop.state, cupOf(shop, CLEAR_CUP)) as number
  expect(said((endsAt - minute(0)) / 60_000)).toEqual([false])
})

test('one more coat of the last step is not offered as the next coat', () => {
  const shop = addPanel(shopWith(), [{ stage: 'sealer', sheet: 'sealer-2k' }, ...CLEAR_ONLY])
  shop.do('MixCup', { cup: SLOW_CUP, sheet: 'sealer-2k', totalMl: 300 })
  shop.do('FinishCoat', { panels: [DOOR], cup: SLOW_CUP })
  expect(lanesOf(shop.state, minute(30))[0]).toMatchObject({
    stage: 'clear',
    waits: { for: 'coat' },
  })
  const starts = startsFrom(shop.state, SLOW_CUP, en, minute(30))
  expect(starts.map(({ act, mayGoOn }) => [act.data.step, mayGoOn])).toEqual([[0, false]])
})
