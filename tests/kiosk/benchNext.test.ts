import { describe, expect, test } from 'vitest'
import { filled, NEW_DRAFT } from '../../kiosk/bench/draft.ts'
import { lastMixed, nextMix, repeated } from '../../kiosk/bench/nextMix.ts'
import { pouredBy } from '../../kiosk/bench/poured.ts'
import { pouredOf, pourView } from '../../kiosk/bench/pours.ts'
import { hiddenG, isJustTared, shownG, tared, withoutLast } from '../../kiosk/bench/tare.ts'
import { beforeStart } from '../../kiosk/lanes/beforeStart.ts'
import { en } from '../../kiosk/words/all.ts'
import { currentSheets } from '../../machines/plan/route.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { BASE, CLEAR, SEALER } from '../support/sheets.ts'
import { Shop } from '../support/shop.ts'

const VAN = 'VANREAR2'
const CAR = 'CARHCCD2'

const base = { stage: 'base', sheet: BASE.sheet, colour: 'silver' }
const clear = { stage: 'clear', sheet: CLEAR.sheet }

/** A van whose door is sanded before it is based, sheets in another order than they are sprayed. */
function shopOf(route: readonly object[] = [{ stage: 'sand' }, base, clear]): Shop {
  const shop = new Shop()
  for (const sheet of [CLEAR, SEALER, BASE]) shop.do('SaveSheet', { sheet })
  return withJob(shop, VAN, 'DDDD2222', route)
}
function withJob(shop: Shop, job: string, panel: string, route: readonly object[]): Shop {
  shop.do('OpenJob', { job, title: job, colours: [{ key: 'silver', code: 'S-1 silver' }] })
  shop.do('AddPanel', { job, panel, name: 'Door', operation: 'repair', areaM2: 1, route })
  return shop
}
const sheetsOf = (shop: Shop) => currentSheets(shop.state) as [Sheet, ...Sheet[]]
const next = (shop: Shop) => nextMix(shop.state, sheetsOf(shop), shop.now)
const mixBase = (shop: Shop, cup = 'BBBB2222') =>
  shop.do('MixCup', { cup, sheet: BASE.sheet, totalMl: 400, job: VAN, colour: 'silver' })

describe('the Bench opens on', () => {
  test('the first product that the open job has no cup of, with its job and color', () => {
    const shop = shopOf()
    expect(next(shop)).toEqual({ sheet: BASE.sheet, job: VAN, colour: 'silver' })
    mixBase(shop)
    expect(next(shop)).toEqual({ sheet: CLEAR.sheet, job: VAN, colour: '' })
    shop.do('MixCup', { cup: 'CCCC2222', sheet: CLEAR.sheet, totalMl: 300 })
    expect(next(shop)).toBeNull()
    // The pot life of the clear is over: it is mixed again.
    expect(nextMix(shop.state, sheetsOf(shop), shop.now + 3_600_001)).toMatchObject(clearOf)
  })
  const clearOf = { sheet: CLEAR.sheet, job: VAN }

  test('the panel that comes to it first, of two jobs; a paused or closed job waits for no cup', () => {
    const shop = withJob(shopOf(), CAR, 'EEEE2222', [{ stage: 'sealer', sheet: SEALER.sheet }])
    expect(next(shop)).toMatchObject({ sheet: SEALER.sheet, job: CAR })
    shop.do('PauseJob', { job: CAR })
    expect(next(shop)).toMatchObject({ sheet: BASE.sheet, job: VAN })
    shop.do('RemovePanel', { panel: 'DDDD2222' })
    expect(next(shop)).toBeNull()
  })

  test('nothing of a product that is not used any more', () => {
    const shop = shopOf()
    shop.do('RetireSheet', { sheet: BASE.sheet })
    expect(next(shop)).toMatchObject({ sheet: CLEAR.sheet })
  })
})

describe('the last mix again', () => {
  test('has its product, job, color, activator and amount; one poured from others is not mixed', () => {
    const shop = shopOf()
    expect(lastMixed(shop.state)).toBeNull()
    shop.do('MixCup', { cup: 'CCCC2222', sheet: CLEAR.sheet, totalMl: 250, activator: 'slow' })
    mixBase(shop.at(1))
    shop.at(2).do('PourCup', { cup: 'FFFF2222', from: [{ cup: 'BBBB2222', ml: 100 }], add: [] })
    const again = () => {
      const last = lastMixed(shop.state)
      return last && repeated(shop.state, last, sheetsOf(shop))
    }
    const kept = { sheet: BASE.sheet, job: VAN, colour: 'silver', totalMl: 400, pours: [] }
    expect(again()).toMatchObject(kept)
    shop
      .at(3)
      .do('MixCup', { cup: 'GGGG2222', sheet: CLEAR.sheet, totalMl: 250, activator: 'slow' })
    const draft = again()
    expect(draft).toMatchObject({ sheet: CLEAR.sheet, job: '', activator: 'slow', totalMl: 250 })
    const it = filled(shop.state, draft ?? NEW_DRAFT, sheetsOf(shop), shop.now)
    expect([it.activator.picked, it.mix.totalMl]).toEqual(['slow', 250])
    shop.do('RetireSheet', { sheet: CLEAR.sheet })
    expect(again()).toBeNull()
  })
})

describe('a scale set to zero between two pours', () => {
  const sheet = sheetsOf(shopOf()).find((one) => one.sheet === CLEAR.sheet) as Sheet
  const mix = { sheet, totalMl: 300, stepG: 0.1, cupMl: null }
  const clearG = { part: 0, g: 200, at: 0 }

  test('shows the rest from zero; what was poured is what it is without it', () => {
    const before = { pours: [clearG], tares: [] }
    const view = pourView(mix, before.pours)
    // 100 mL of activator at 1.05 g/mL on 200 g of clear.
    expect(view.next?.readingG).toBe(305)
    const at = { ...before, ...tared(before, view.readingG) }
    expect([shownG(at, view.readingG), shownG(at, view.next?.readingG ?? 0)]).toEqual([0, 105])
    const poured = pouredBy('105', shownG(at, view.readingG))
    expect(poured).toEqual({ kind: 'poured', g: 105 })
    const all = [clearG, { part: 1, g: 105, at: 1 }]
    expect(pouredOf(mix, all).pouredG).toEqual([200, 105])
    expect(pourView(mix, all)).toMatchObject({ next: null, errorPct: 0 })
    // Less than zero was not poured.
    expect(pouredBy('-3', shownG(at, view.readingG))).toMatchObject({ kind: 'wrong' })
  })

  test('is undone like a pour, in the order of the touches', () => {
    const one = { pours: [clearG], tares: [] }
    const two = { ...one, ...tared(one, 200) }
    const three = { ...two, pours: [...two.pours, { part: 1, g: 50, at: 1 }] }
    expect([isJustTared(two), isJustTared(three)]).toEqual([true, false])
    const back = { ...three, ...withoutLast(three) }
    expect(back).toEqual(two)
    expect({ ...back, ...withoutLast(back) }).toEqual(one)
    const twice = { ...three, ...tared(three, 250) }
    expect([hiddenG(twice), hiddenG({ ...twice, ...withoutLast(twice) })]).toEqual([250, 200])
  })
})

test('before a start it is said that a cup holds less than the pass takes, or should be empty; nothing is refused', () => {
  const shop = withJob(shopOf(), CAR, 'EEEE2222', [clear])
  const cup = 'CCCC2222'
  shop.do('MixCup', { cup, sheet: CLEAR.sheet, totalMl: 300 })
  const said = (leftMl: number) => {
    shop.do('MeasureCup', { cup, leftMl })
    const start = { panels: ['EEEE2222'], cup }
    return beforeStart(shop.state, start, en, shop.now, (ml) => `${ml} mL`)
  }
  // 1 m² × 25 µm / (0.45 × 0.65) = 85.5 mL.
  expect(said(86)).toEqual([])
  expect(said(60)).toEqual([
    'About 60 mL left in this cup; this pass takes about 85 mL. An estimate.',
  ])
  shop.at(1).do('StartCoat', { panels: ['EEEE2222'], cup })
  shop.at(2).do('FinishCoat', { panels: ['EEEE2222'] })
  const again = beforeStart(shop.state, { panels: ['EEEE2222'], cup }, en, shop.now, String)
  expect(again).toEqual(['By what was sprayed this cup should be empty: weigh it, or go on.'])
})
