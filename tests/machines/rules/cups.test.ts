import { describe, expect, test } from 'vitest'
import {
  addPanel,
  air,
  around,
  BASE_CUP,
  bells,
  CLEAR_CUP,
  CLEAR_ONLY,
  cupOf,
  DOOR,
  dueMin,
  MS,
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
import { BASE, CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'
import { minute } from '../../support/shop.ts'

const bench = (shop: Shop, min: number, airC: number): Shop =>
  air(shop, min, airC, 0.5, { zone: 'bench' })
/** One cup of clear on the bench, mixed at minute 0; a door that wants clear. */
function oneCup(more: object = {}, chosen: object = {}): Shop {
  const shop = addPanel(shopWith([{ ...CLEAR, ...more }]), CLEAR_ONLY)
  return mix(shop, CLEAR_CUP, CLEAR.sheet, chosen)
}
const print = (shop: Shop, min: number) => shop.at(min).do('PrintLabel', { cup: CLEAR_CUP })[0]
const ends = (shop: Shop) => dueMin(shop, 'potOver')

describe('pot life', () => {
  test('runs from when the activator went in, and is over at its last moment', () => {
    expect(around(oneCup(), 60, startCoat(CLEAR_CUP))).toEqual(['done', 'potLifeOver'])
  })

  test.each([
    ['an activator with its own', { activator: 'slow' }, 90],
    ['one without: the sheet', { activator: 'standard' }, 60],
    ['a reducer with its own', { reducer: 'fast' }, 45],
    ['both with their own: the more cautious', { activator: 'slow', reducer: 'fast' }, 45],
  ])('%s', (_, chosen, min) => {
    const reducers = [{ name: 'fast', fromC: 5, toC: 20, potLife: [{ atC: 20, minutes: 45 }] }]
    expect(ends(oneCup({ reducers }, chosen))).toBe(min)
  })

  test('an activator or reducer that the sheet does not name is not taken', () => {
    const refusal = refusalOf(
      oneCup().send('MixCup', {
        cup: BASE_CUP,
        sheet: CLEAR.sheet,
        totalMl: 100,
        activator: 'rapid',
      }),
    )
    expect(refusal.message).toBe('There is no activator rapid here. Use one of standard, slow.')
  })

  test('runs faster in the heat: 20 min at 20 °C, then 30 °C, and 60 min end at 40', () => {
    expect(ends(bench(bench(oneCup(), 0, 20), 20, 30))).toBe(40)
  })

  test('is never longer in the cold', () => {
    expect(ends(bench(oneCup(), 0, 5))).toBe(60)
  })

  test('runs in the air of the zone in which the cup was mixed', () => {
    expect(ends(air(oneCup(), 0, 30))).toBe(60)
    expect(ends(air(oneCup({}, { zone: 'booth' }), 0, 30))).toBe(30)
  })

  test('is not moved by a later edit of the sheet', () => {
    const shop = oneCup()
    shop.do('SaveSheet', { sheet: { ...CLEAR, potLife: [{ atC: 20, minutes: 5 }] } })
    expect(ends(shop)).toBe(60)
    expect(cupOf(shop, CLEAR_CUP).sheetVersion).toBe(1)
  })

  test('that ends before the spraying time of the coat is a warning, no refusal', () => {
    // A panel without an area takes one minute.
    const warned = (min: number) =>
      oneCup()
        .at(min)
        .do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })[0]?.data.warnings
    expect(warned(59)).toBeUndefined()
    expect(warned(59 + MS)).toEqual(['cupEndsDuringCoat'])
  })
})

describe('a mix without pot life', () => {
  const stored = (more: object = {}): Shop => {
    const shop = addPanel(shopWith([{ ...BASE, ...more }]), [{ stage: 'base', sheet: BASE.sheet }])
    return mix(shop, BASE_CUP, BASE.sheet)
  }
  test('has no pot bells, but a date until which it keeps', () => {
    expect(bells(stored())).toEqual([['keepUntil', 30 * 1440]])
    expect(stateOf(stored(), 'cup', BASE_CUP)).toBe('stored')
  })

  test('past that date it is refused, and used with a reason', () => {
    expect(around(stored(), 30 * 1440, startCoat(BASE_CUP))).toEqual(['done', 'keepOver'])
    const override = { reason: 'stirred, strained and sprayed on a card' }
    const [coat] = stored()
      .at(30 * 1440)
      .do('StartCoat', { panels: [DOOR], cup: BASE_CUP, override })
    expect(coat?.override?.codes).toEqual(['keepOver'])
  })

  test('without a number of days has no bell at all', () => {
    const { keepDays: _, ...sheet } = BASE
    const shop = mix(shopWith([sheet]), BASE_CUP, BASE.sheet)
    expect(bells(shop)).toEqual([])
  })
})

describe('the label of a cup', () => {
  test('says when the cup ends, and caps it: colder air later gives nothing back', () => {
    const shop = bench(oneCup(), 0, 30)
    const draft = print(shop, 1)
    expect([minuteOf(Number(draft?.data.untilMs)), draft?.data.copy]).toEqual([30, 1])
    bench(shop, 2, 20)
    expect(ends(shop)).toBe(30)
    expect(ends(bench(bench(oneCup(), 0, 30), 2, 20))).toBe(58)
  })

  test('does not hold the cup when the clock comes earlier', () => {
    const shop = oneCup()
    print(shop, 1)
    expect(ends(bench(bench(shop, 1, 20), 20, 30))).toBe(40)
  })

  test('printed again counts its copies and gives no time back', () => {
    const shop = bench(oneCup(), 0, 30)
    print(shop, 1)
    bench(shop, 2, 20)
    const second = print(shop, 3)
    expect([minuteOf(Number(second?.data.untilMs)), second?.data.copy]).toEqual([30, 2])
  })

  test('of a mix without pot life says until when it keeps', () => {
    const shop = mix(shopWith(), BASE_CUP, BASE.sheet)
    const [draft] = shop.do('PrintLabel', { cup: BASE_CUP })
    expect([draft?.data.untilMs, minuteOf(Number(draft?.data.keepUntilMs))]).toEqual([
      null,
      30 * 1440,
    ])
  })

  test('that did not print is written by hand: the log says so, and its word binds the same', () => {
    const shop = oneCup()
    const printed = print(shop, 1)
    const byHand = { cup: CLEAR_CUP, byHand: true }
    const [written] = shop.at(2).do('PrintLabel', byHand)
    expect(written).toMatchObject({
      type: 'CupLabelPrinted',
      data: { byHand: true, untilMs: printed?.data.untilMs, copy: 2 },
    })
    // Printed after all: the times stay.
    expect(print(shop, 4)?.data).toMatchObject({ copy: 3, untilMs: printed?.data.untilMs })
    expect(print(shop, 5)?.data).not.toHaveProperty('byHand')
    expect(ends(shop)).toBe(60)
  })

  test('is not printed for a cup that is unknown or empty', () => {
    const shop = oneCup()
    expect(shop.refused('PrintLabel', { cup: BASE_CUP })).toBe('cupUnknown')
    shop.do('EmptyCup', { cup: CLEAR_CUP, how: 'used' })
    expect(shop.refused('PrintLabel', { cup: CLEAR_CUP })).toBe('cupEmptied')
  })
})

describe('induction', () => {
  const standing = (): Shop => oneCup({ induction: [{ atC: 20, minutes: 20 }] })
  test('the mix needs its induction time before it is sprayed, and a bell rings when it is over', () => {
    expect(around(standing(), 20, startCoat(CLEAR_CUP))).toEqual(['inductionNotOver', 'done'])
    expect(dueMin(standing(), 'inductionOver')).toBe(20)
    expect(refusalOf(startCoat(CLEAR_CUP)(standing().at(19))).message).toBe(
      'The mix is not ready to spray yet. 1 min to go.',
    )
  })

  test('is longer in the cold', () => {
    expect(dueMin(bench(standing(), 0, 10), 'inductionOver')).toBe(40)
  })

  test('does not keep it from being decanted or put into a gun: the coat waits', () => {
    const shop = standing()
    expect(said(shop.send('LoadGun', { gun: 'gun-1', cup: CLEAR_CUP }))).toBe('done')
    const pour = { cup: BASE_CUP, from: [{ cup: CLEAR_CUP, ml: 100 }] }
    expect(said(shop.send('PourCup', pour))).toBe('done')
    expect(said(startCoat(BASE_CUP)(shop))).toBe('inductionNotOver')
  })
})

describe('emptying a cup', () => {
  test('ends its bells and its use, and keeps what was left', () => {
    const shop = oneCup()
    shop.at(5).do('EmptyCup', { cup: CLEAR_CUP, how: 'discarded', leftMl: 120 })
    expect(bells(shop)).toEqual([])
    expect(refusalOf(startCoat(CLEAR_CUP)(shop.at(9))).message).toBe(
      `Cup ${CLEAR_CUP} was emptied 4 min ago.`,
    )
    expect([stateOf(shop, 'cup', CLEAR_CUP), cupOf(shop, CLEAR_CUP).emptiedAt]).toEqual([
      'emptied',
      minute(5),
    ])
    expect(shop.entries.find((e) => e.type === 'CupEmptied')?.data).toEqual({
      how: 'discarded',
      leftMl: 120,
    })
  })

  test('twice is refused live, kept late; an unknown cup is refused', () => {
    const shop = oneCup()
    shop.do('EmptyCup', { cup: CLEAR_CUP, how: 'used' })
    const again = { cup: CLEAR_CUP, how: 'discarded' }
    expect(shop.refused('EmptyCup', again)).toBe('cupEmptied')
    expect(outsideOf(queued(shop.at(60), 30, 'EmptyCup', again)[0])).toEqual(['cupEmptied'])
    expect(shop.refused('EmptyCup', { cup: BASE_CUP, how: 'used' })).toBe('cupUnknown')
  })

  test('a pot life that was over is answered by it', () => {
    const shop = oneCup().at(61)
    shop.do('RingBell', { key: `potOver:${CLEAR_CUP}` })
    shop.do('EmptyCup', { cup: CLEAR_CUP, how: 'discarded' })
    expect(bells(shop)).toEqual([])
  })
})

describe('a cup and its time', () => {
  test('a coat from before it was mixed is a coat from an unknown cup', () => {
    const shop = vanWith(CLEAR_ONLY)
    mix(shop.at(30), 'FFFF2222', CLEAR.sheet)
    const early = { panels: [DOOR], cup: 'FFFF2222' }
    expect(outsideOf(queued(shop.at(60), 29, 'StartCoat', early)[0])).toEqual(['cupUnknown'])
  })

  test('keeps the air that it was mixed in, the ratio and what was poured', () => {
    const shop = bench(shopWith(), 1, 23)
    const more = { activator: 'standard', pouredG: [200, 105], lots: ['A17'] }
    shop.do('MixCup', { cup: CLEAR_CUP, sheet: CLEAR.sheet, totalMl: 300, ...more })
    expect(shop.entries.at(-1)?.data).toMatchObject({
      ...more,
      ratio: '2:1',
      climate: { airC: 23, rh: 0.5 },
    })
  })
})
