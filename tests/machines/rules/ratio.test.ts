import { describe, expect, test } from 'vitest'
import { mixedRatio } from '../../../machines/cup/ratio.ts'
import {
  addPanel,
  CLEAR_CUP,
  CLEAR_CURE,
  CLEAR_ONLY,
  coat,
  cupOf,
  DOOR,
  dueMin,
  mix,
  outsideOf,
  panelOf,
  queued,
  refusalOf,
  said,
  shopWith,
  startCoat,
} from '../../support/given.ts'
import { CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

const CHILD = 'FFFF2222'
const override = { reason: 'asked for' }

/** 2:1 by mass, so that what is weighed is what is judged. */
const BY_MASS = { ...CLEAR, by: 'mass' as const }
const REDUCED = {
  ...BY_MASS,
  components: [
    ...CLEAR.components,
    { name: 'reducer', role: 'reducer', parts: 0.2, densityGPerMl: 0.87 },
    { name: 'flex', role: 'additive', parts: 0.4, densityGPerMl: 1 },
  ],
}

function weighed(pouredG: readonly number[], sheet: object = BY_MASS, more: object = {}): Shop {
  const shop = addPanel(shopWith([sheet]), CLEAR_CURE)
  return mix(shop, CLEAR_CUP, CLEAR.sheet, { pouredG, ...more })
}
const answer = (pouredG: readonly number[], sheet?: object, more?: object) =>
  said(startCoat(CLEAR_CUP)(weighed(pouredG, sheet, more)))

describe('a mix is judged by the base that was really poured', () => {
  test.each([
    ['an activator 5 % short', [200, 95], 'done'],
    ['a hair less', [200, 94.9], 'ratioOff'],
    ['an activator 10 % over', [200, 110], 'done'],
    ['a hair more', [200, 110.1], 'ratioOff'],
    ['half of the base and of the activator', [100, 50], 'done'],
    ['half of the activator', [200, 50], 'ratioOff'],
    ['no activator at all', [200, 0], 'noActivator'],
    ['nothing after the base', [200], 'noActivator'],
  ])('%s, %o g of 2:1: %s', (_, pouredG, code) => {
    expect(answer(pouredG)).toBe(code)
  })

  test.each([
    ['a reducer 15 % short', [200, 100, 17, 40], 'done'],
    ['more than that', [200, 100, 16.7, 40], 'ratioOff'],
    ['a reducer 15 % over', [200, 100, 23, 40], 'done'],
    ['more than that', [200, 100, 23.3, 40], 'ratioOff'],
    ['an additive 25 % short', [200, 100, 20, 30], 'done'],
    ['more than that', [200, 100, 20, 29.7], 'ratioOff'],
    ['an additive 10 % over', [200, 100, 20, 44], 'done'],
    ['more than that', [200, 100, 20, 44.3], 'ratioOff'],
  ])('%s, %o g: %s', (_, pouredG, code) => {
    expect(answer(pouredG, REDUCED)).toBe(code)
  })

  test('by volume the densities count: 60 mL with 6 % too much activator is within', () => {
    // 40 mL of 1.00 g/mL, and 21.2 mL of 1.05 g/mL where 20 are asked for.
    expect(answer([40, 22.26], CLEAR)).toBe('done')
    expect(answer([40, 23.2], CLEAR)).toBe('ratioOff')
  })

  test('two divisions of the scale are never too far off', () => {
    // 2 g of activator: 10 % are 0.2 g, two divisions of a 1 g scale are 2 g.
    expect(answer([4, 3.9])).toBe('ratioOff')
    expect(answer([4, 3.9], BY_MASS, { scaleG: 1 })).toBe('done')
    expect(answer([4, 4.1], BY_MASS, { scaleG: 1 })).toBe('ratioOff')
  })

  test("the sheet's own tolerance goes before", () => {
    const strict = { ...BY_MASS, ratioTolerance: 0.02 }
    expect([answer([200, 98], strict), answer([200, 97], strict)]).toEqual(['done', 'ratioOff'])
    expect([answer([200, 102], strict), answer([200, 103], strict)]).toEqual(['done', 'ratioOff'])
  })

  test('what was not weighed, or has no density, is not known', () => {
    const shop = mix(addPanel(shopWith(), CLEAR_ONLY), CLEAR_CUP, CLEAR.sheet)
    expect(said(startCoat(CLEAR_CUP)(shop))).toBe('done')
    const components = CLEAR.components.map(({ densityGPerMl: _, ...rest }) => rest)
    expect(answer([200, 10], { ...CLEAR, components })).toBe('done')
  })
})

describe('what is poured wrong can be put right', () => {
  test('it is said what to add, the largest amount first', () => {
    const refusal = refusalOf(startCoat(CLEAR_CUP)(weighed([200, 130, 20, 40], REDUCED)))
    expect(refusal.message).toBe(
      `Cup ${CLEAR_CUP} has 130 g activator; it needs 95 g to 110 g. Add 60 g clear, 12 g flex, 6 g reducer.`,
    )
  })

  test('its ratio is that of what was poured, and the sheet’s where that is within the tolerance', () => {
    const ratio = (pouredG: readonly number[], sheet?: object) =>
      mixedRatio(cupOf(weighed(pouredG, sheet), CLEAR_CUP))
    expect([ratio([200, 100]), ratio([200, 106]), ratio([200, 238.1])]).toEqual([
      '2:1',
      '2:1',
      '2:2.38',
    ])
    expect([ratio([200, 0]), ratio([0, 100])]).toEqual(['2:0', '0:1'])
    expect(ratio([200, 130, 20, 40], REDUCED)).toBe('2:1.3:0.2:0.4')
  })

  test('what is added counts', () => {
    const shop = weighed([200, 0], CLEAR)
    const add = [{ role: 'activator', name: 'activator', ml: 100 }]
    shop.do('PourCup', { cup: CHILD, from: [{ cup: CLEAR_CUP }], add })
    expect(cupOf(shop, CHILD).off).toEqual([])
    expect(said(startCoat(CHILD)(shop))).toBe('done')
  })

  test('of a part poured off half as much is missing', () => {
    const shop = weighed([200, 0], CLEAR, { totalMl: 200 })
    const from = [{ cup: CLEAR_CUP, ml: 100 }]
    const add = (ml: number) => [{ role: 'activator', name: 'activator', ml }]
    const child = (ml: number) => {
      const copy = shop.fork()
      copy.do('PourCup', { cup: CHILD, from, add: add(ml) })
      return said(startCoat(CHILD)(copy))
    }
    expect([child(50), child(40)]).toEqual(['done', 'ratioOff'])
  })

  test('read off a printed cup, 3 % of its full mark are within', () => {
    const child = (markMl?: number) => {
      const shop = weighed([200, 0], CLEAR)
      const add = [{ role: 'activator', name: 'activator', ml: 80 }]
      const from = [{ cup: CLEAR_CUP }]
      shop.do('PourCup', { cup: CHILD, from, add, ...(markMl ? { markMl } : {}) })
      return said(startCoat(CHILD)(shop))
    }
    expect([child(), child(600), child(700)]).toEqual(['ratioOff', 'ratioOff', 'done'])
  })
})

describe('a coat without its activator', () => {
  function sprayed(): Shop {
    const shop = weighed([200, 0], CLEAR)
    shop.at(1).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP, override })
    shop.at(3).do('FinishCoat', { panels: [DOOR] })
    return shop
  }

  test('never cures, though a good coat is over it', () => {
    const shop = sprayed()
    mix(shop, CHILD, CLEAR.sheet)
    coat(shop, CHILD, 14, 16)
    shop.at(30).do('StartCure', { panels: [DOOR], mode: 'air' })
    expect(dueMin(shop, 'cureOver')).toBeUndefined()
    const refusal = refusalOf(shop.at(9_000).send('PassPanel', { panel: DOOR, override }))
    expect([refusal.code, refusal.overridable]).toEqual(['neverCures', false])
  })

  test('until it is stripped', () => {
    const shop = sprayed()
    const back = { panel: DOOR, toStep: 0, done: 0, reason: 'WRONG_MIX' }
    shop.at(10).do('SendBackPanel', back)
    expect(panelOf(shop).coats).toHaveLength(1)
    shop.do('SendBackPanel', { ...back, stripped: true })
    expect(panelOf(shop).coats).toHaveLength(0)
    expect(refusalOf(shop.send('PassPanel', { panel: DOOR })).code).toBe('coatsMissing')
  })

  test('or its coat is voided', () => {
    const shop = sprayed()
    const [finish] = shop.entries.filter(({ type }) => type === 'CoatFinished')
    shop.at(10).do('VoidEntry', { entry: finish?.id, reason: 'WRONG_CUP' })
    const codes = refusalOf(shop.send('PassPanel', { panel: DOOR }))
    expect([codes.code, ...codes.also]).not.toContain('neverCures')
  })
})

describe('what a cup can hold', () => {
  const finish = (usedMl: number, shop: Shop) =>
    shop.at(3).send('FinishCoat', { panels: [DOOR], usedMl })
  const running = () => {
    const shop = weighed([200, 100], CLEAR, { totalMl: 300 })
    startCoat(CLEAR_CUP)(shop.at(1))
    return shop
  }

  test('5 % and 10 mL more are within what two people read', () => {
    expect([said(finish(325, running())), said(finish(325.1, running()))]).toEqual([
      'done',
      'noRoom',
    ])
    expect(refusalOf(finish(5_000, running())).message).toBe(
      `Cup ${CLEAR_CUP} holds 300 mL; you cannot take 5000 mL from it.`,
    )
  })

  test('said late it is kept and marked', () => {
    const shop = running().at(60)
    const [draft] = queued(shop, 3, 'FinishCoat', { panels: [DOOR], usedMl: 5_000 })
    expect(outsideOf(draft)).toEqual(['noRoom'])
  })
})

test('an activator outside its range is marked, and the mix is made', () => {
  const mixed = (airC: number) => {
    const shop = shopWith()
    shop.do('ReadClimate', { zone: 'bench', airC, rh: 0.5 })
    const more = { cup: CLEAR_CUP, sheet: CLEAR.sheet, totalMl: 300, activator: 'standard' }
    return outsideOf(shop.do('MixCup', more)[0])
  }
  expect([mixed(25), mixed(25.1)]).toEqual([[], ['optionOutside']])
})
