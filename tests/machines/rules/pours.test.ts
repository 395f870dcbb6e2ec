import { describe, expect, test } from 'vitest'
import { inductionEndsAt } from '../../../machines/cup/ends.ts'
import { deadlines } from '../../../machines/deadlines.ts'
import {
  around,
  BASE_CUP,
  bells,
  CLEAR_CUP,
  CLEAR_ONLY,
  cupEndMin,
  cupOf,
  DOOR,
  dueMin,
  minuteOf,
  mix,
  outsideOf,
  queued,
  refusalOf,
  said,
  shopWith,
  startCoat,
  stateOf,
  vanWith,
} from '../../support/given.ts'
import { BASE, CLEAR, SEALER } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

const CHILD = 'KKKK2222'
const SECOND = 'FFFF2222'
const pour = (shop: Shop, from: readonly object[], more: object = {}) =>
  shop.send('PourCup', { cup: CHILD, from, ...more })
const endOf = (shop: Shop, id = CHILD) => cupEndMin(shop, id)
describe('a pour always makes a new cup', () => {
  const cups = (): Shop => mix(vanWith(CLEAR_ONLY).at(20), SECOND, CLEAR.sheet)

  test('with one fact for each parent and one for the child', () => {
    const drafts = cups().do('PourCup', {
      cup: CHILD,
      from: [{ cup: CLEAR_CUP, ml: 100 }, { cup: SECOND }],
    })
    expect(drafts.map((d) => [d.type, d.cup, d.data.role])).toEqual([
      ['CupPoured', CLEAR_CUP, 'parent'],
      ['CupPoured', SECOND, 'parent'],
      ['CupPoured', CHILD, 'child'],
    ])
  })

  test('decanted, the child ends when its parent does, however late it was poured', () => {
    const shop = cups().at(50)
    pour(shop, [{ cup: CLEAR_CUP, ml: 100 }])
    expect(around(shop, 60, startCoat(CHILD))).toEqual(['done', 'potLifeOver'])
    expect(cupOf(shop, CHILD)).toMatchObject({ totalMl: 100, parents: [CLEAR_CUP] })
    // Near is a fifth of the whole life, which began with the parent.
    expect(deadlines(shop.state).find((d) => d.key === `potNear:${CHILD}`)?.dueAt).toBe(minute(48))
  })

  test.each([
    ['in this order', [CLEAR_CUP, SECOND]],
    ['in that order', [SECOND, CLEAR_CUP]],
  ])('joined, it ends with its earliest parent, %s', (_, order) => {
    const shop = cups().at(30)
    pour(
      shop,
      order.map((cup) => ({ cup })),
    )
    expect([endOf(shop), cupOf(shop, CHILD).totalMl]).toEqual([60, 600])
  })

  test('a child of a child still ends with the first', () => {
    const shop = cups().at(30)
    pour(shop, [{ cup: CLEAR_CUP, ml: 50 }])
    shop.do('PourCup', { cup: 'GGGG2222', from: [{ cup: SECOND, ml: 50 }, { cup: CHILD }] })
    expect(endOf(shop, 'GGGG2222')).toBe(60)
  })

  test("a parent's label binds the child", () => {
    const shop = vanWith(CLEAR_ONLY)
    shop.do('ReadClimate', { zone: 'bench', airC: 30, rh: 0.5 })
    shop.at(1).do('PrintLabel', { cup: CLEAR_CUP })
    shop.at(2).do('ReadClimate', { zone: 'bench', airC: 20, rh: 0.5 })
    pour(shop, [{ cup: CLEAR_CUP, ml: 100 }])
    expect(endOf(shop)).toBe(30)
  })

  test('more reducer late gives no time back', () => {
    const slow = { name: 'slow', fromC: 20, toC: 35, potLife: [{ atC: 20, minutes: 600 }] }
    const shop = vanWith(CLEAR_ONLY, [{ ...CLEAR, reducers: [slow] }]).at(30)
    const add = [{ role: 'reducer', name: 'slow', ml: 20 }]
    expect(said(pour(shop, [{ cup: CLEAR_CUP }], { add }))).toBe('done')
    expect([endOf(shop), cupOf(shop, CHILD).totalMl]).toEqual([60, 320])
  })

  test('what is left stays in the parent; poured out whole it is empty', () => {
    const shop = cups()
    pour(shop, [{ cup: CLEAR_CUP, ml: 100 }, { cup: SECOND }])
    expect([stateOf(shop, 'cup', CLEAR_CUP), stateOf(shop, 'cup', SECOND)]).toEqual([
      'live',
      'emptied',
    ])
    expect(cupOf(shop, SECOND).emptiedAt).toBe(shop.now)
    shop.do('PourCup', { cup: 'GGGG2222', from: [{ cup: CLEAR_CUP, ml: 200 }] })
    expect(stateOf(shop, 'cup', CLEAR_CUP)).toBe('emptied')
  })
})

describe('what cannot be poured', () => {
  const shop = (): Shop => mix(vanWith(CLEAR_ONLY), SECOND, CLEAR.sheet)
  test('more than there is', () => {
    const refusal = refusalOf(pour(shop(), [{ cup: CLEAR_CUP, ml: 326 }]))
    expect(refusal.message).toBe(`Cup ${CLEAR_CUP} holds 300 mL; you cannot take 326 mL from it.`)
    expect(said(pour(shop(), [{ cup: CLEAR_CUP, ml: 325 }]))).toBe('done')
    const data = { cup: CHILD, from: [{ cup: CLEAR_CUP, ml: 326 }] }
    expect(outsideOf(queued(shop().at(60), 30, 'PourCup', data)[0])).toEqual(['noRoom'])
  })

  test('different products, different colors', () => {
    expect(said(pour(shop(), [{ cup: CLEAR_CUP }, { cup: BASE_CUP }]))).toBe('wrongProduct')
    const base = mix(shop(), 'GGGG2222', BASE.sheet, { colour: 'white' })
    mix(base, 'HHHH2222', BASE.sheet, { colour: 'grey' })
    expect(said(pour(base, [{ cup: 'GGGG2222' }, { cup: 'HHHH2222' }]))).toBe('wrongColour')
  })

  test('an emptied cup, one past its pot life', () => {
    const emptied = shop()
    emptied.do('EmptyCup', { cup: CLEAR_CUP, how: 'discarded' })
    expect(said(pour(emptied, [{ cup: CLEAR_CUP }]))).toBe('cupEmptied')
    expect(around(shop(), 60, (s) => pour(s, [{ cup: CLEAR_CUP }]))).toEqual([
      'done',
      'potLifeOver',
    ])
  })

  test('an unknown cup; said late it is kept, and its child waits for the cup', () => {
    const at = minute(5)
    const data = { cup: CHILD, from: [{ cup: 'ZZZZ2222' }] }
    expect(said(shop().send('PourCup', data))).toBe('cupUnknown')
    const late = shop().at(60)
    const [out, child] = late.do('PourCup', data, { at, enteredAt: at })
    expect([outsideOf(out), outsideOf(child)]).toEqual([['cupUnknown'], ['cupUnknown']])
    expect(stateOf(late, 'cup', CHILD)).toBe('unmixed')
    expect(late.refused('MixCup', { cup: CHILD, sheet: CLEAR.sheet, totalMl: 100 })).toBe('idTaken')
  })

  test('a cup into itself twice', () => {
    expect(() =>
      pour(shop(), [
        { cup: CLEAR_CUP, ml: 1 },
        { cup: CLEAR_CUP, ml: 1 },
      ]),
    ).toThrow('a list that names nothing twice')
  })
})

describe('activating what was stored', () => {
  const ACTIVATOR = { name: 'hardener', fromC: 10, toC: 35, potLife: [{ atC: 20, minutes: 120 }] }
  const stored = (more: object = {}): Shop => {
    const sheet = { ...BASE, activators: [ACTIVATOR], ...more }
    return mix(shopWith([sheet]), BASE_CUP, BASE.sheet)
  }
  const add = (name: string) => ({ add: [{ role: 'activator', name, ml: 30 }] })

  test('starts the clock when the activator goes in', () => {
    const shop = stored().at(600)
    expect(said(pour(shop, [{ cup: BASE_CUP, ml: 100 }], add('hardener')))).toBe('done')
    expect(bells(shop, 'potNear', 'potOver')).toEqual([
      ['potNear', 696],
      ['potOver', 720],
    ])
    expect([stateOf(shop, 'cup', CHILD), stateOf(shop, 'cup', BASE_CUP)]).toEqual([
      'live',
      'stored',
    ])
  })

  test('does not outlast the day until which the base keeps', () => {
    const shop = stored().at(30 * 1440 - 10)
    pour(shop, [{ cup: BASE_CUP }], add('hardener'))
    expect(endOf(shop)).toBe(30 * 1440)
  })

  test('with an activator that the sheet does not name is refused: its pot life is unknown', () => {
    const refusal = refusalOf(pour(stored(), [{ cup: BASE_CUP }], add('other')))
    expect(refusal.message).toBe('There is no activator other here. Use one of hardener.')
    expect(said(pour(stored({ activators: [] }), [{ cup: BASE_CUP }], add('any')))).toBe(
      'unknownThing',
    )
  })

  test('with a reducer that the sheet does not name is refused too; an additive is only noted', () => {
    const more = (role: string) => ({ add: [{ role, name: 'other', ml: 5 }] })
    const shop = stored()
    expect(said(pour(shop.fork(), [{ cup: BASE_CUP }], more('reducer')))).toBe('unknownThing')
    expect(said(pour(shop, [{ cup: BASE_CUP }], more('additive')))).toBe('done')
    expect(cupOf(shop, CHILD)).toMatchObject({ totalMl: 305, reducer: null })
    expect(shop.entries.at(-1)?.data.add).toEqual([{ role: 'additive', name: 'other', ml: 5 }])
  })

  test('with the activator that the sheet lists among its components is the pot life of the sheet', () => {
    const shop = mix(shopWith([SEALER]), CLEAR_CUP, SEALER.sheet).at(30)
    pour(shop, [{ cup: CLEAR_CUP }], add('activator'))
    expect(endOf(shop)).toBe(60)
  })

  test('the induction time starts then; of two cups poured together the last one counts', () => {
    const sheet = { induction: [{ atC: 20, minutes: 20 }] }
    const shop = stored(sheet).at(100)
    pour(shop, [{ cup: BASE_CUP, ml: 100 }], add('hardener'))
    expect(minuteOf(inductionEndsAt(shop.state, cupOf(shop, CHILD)) ?? 0)).toBe(120)
    mix(shop.at(110), SECOND, BASE.sheet)
    shop.do('PourCup', { cup: 'GGGG2222', from: [{ cup: SECOND }, { cup: CHILD }] })
    expect(minuteOf(inductionEndsAt(shop.state, cupOf(shop, 'GGGG2222')) ?? 0)).toBe(130)
  })

  test('a stored cup joined to an activated one is activated, whichever is named first', () => {
    for (const order of [
      [CHILD, SECOND],
      [SECOND, CHILD],
    ]) {
      const shop = stored().at(100)
      pour(shop, [{ cup: BASE_CUP, ml: 100 }], add('hardener'))
      mix(shop, SECOND, BASE.sheet)
      shop.do('PourCup', { cup: 'GGGG2222', from: order.map((cup) => ({ cup })) })
      expect(cupOf(shop, 'GGGG2222').activator).toBe('hardener')
      expect(endOf(shop, 'GGGG2222')).toBe(220)
    }
  })

  test('what was stored and is joined keeps as long as the older', () => {
    const shop = mix(stored().at(1440), SECOND, BASE.sheet)
    pour(shop, [
      { cup: SECOND, ml: 1 },
      { cup: BASE_CUP, ml: 1 },
    ])
    expect(minuteOf(cupOf(shop, CHILD).keepUntilMs ?? 0)).toBe(30 * 1440)
    expect(dueMin(shop, 'potOver')).toBeUndefined()
  })
})

const ADDITIVE = { role: 'additive', name: 'flex additive', ml: 30 }

test('what is added appears in the new cup’s ratio, in parts of the same volume', () => {
  const shop = vanWith(CLEAR_ONLY)
  // 2:1 in 300 mL is 100 mL a part; 30 mL more are 0.3 parts.
  pour(shop, [{ cup: CLEAR_CUP, ml: 300 }], { add: [ADDITIVE] })
  expect(cupOf(shop, CHILD)).toMatchObject({ ratio: '2:1:0.3', totalMl: 330 })
})

describe('what a component of the ratio is topped up with counts there', () => {
  const activator = { role: 'activator', name: 'standard' }
  const base = { role: 'base', name: 'clear' }
  const ratioAfter = (from: Shop, cup: string, add: readonly object[]) => {
    pour(from, [{ cup }], { add })
    return cupOf(from, CHILD).ratio
  }

  test.each([
    // 2:1 in 300 mL is 100 mL a part.
    ['activator', [{ ...activator, ml: 50 }], '2:1.5'],
    ['its base', [{ ...base, ml: 50 }], '2:0.8'],
    [
      'both in their ratio',
      [
        { ...base, ml: 100 },
        { ...activator, ml: 50 },
      ],
      '2:1',
    ],
    ['activator, and something else', [{ ...activator, ml: 50 }, ADDITIVE], '2:1.5:0.3'],
  ])('%s', (_, add, ratio) => {
    expect(ratioAfter(vanWith(CLEAR_ONLY), CLEAR_CUP, add)).toBe(ratio)
  })

  test('base that had no activator yet has the ratio of its sheet once that is in', () => {
    const stored = { ...CLEAR, sheet: 'clear-stored', potLife: null, keepDays: 30 }
    const shop = mix(shopWith([stored]), SECOND, stored.sheet, { totalMl: 200 })
    expect(ratioAfter(shop, SECOND, [{ ...activator, ml: 100 }])).toBe('2:1')
    // With something else alone it was mixed as its sheet says.
    const mixed = mix(shopWith([stored]), SECOND, stored.sheet, { totalMl: 300 })
    expect(ratioAfter(mixed, SECOND, [ADDITIVE])).toBe('2:1:0.3')
  })

  test('of a cup that was weighed with too much activator, base brings back the ratio of its sheet', () => {
    const shop = vanWith(CLEAR_ONLY)
    mix(shop, SECOND, CLEAR.sheet, { activator: 'standard', totalMl: 338, pouredG: [200, 138] })
    expect(cupOf(shop, SECOND).off).toHaveLength(1)
    expect(ratioAfter(shop, SECOND, [{ ...base, ml: 76 }])).toBe('2:1')
    expect(cupOf(shop, CHILD).off).toEqual([])
    expect(said(shop.send('StartCoat', { panels: [DOOR], cup: CHILD }))).toBe('done')
  })
})
