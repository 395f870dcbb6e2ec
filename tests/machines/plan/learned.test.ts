import { describe, expect, test } from 'vitest'
import type { Draft } from '../../../machines/envelope.ts'
import { learnedFrom, NOT_LEARNED } from '../../../machines/plan/learned.ts'
import { learnedAfter } from '../../../machines/plan/learnFold.ts'
import {
  figuresOf,
  handKey,
  matteKey,
  NOTHING_LEARNED,
  sprayKey,
  volumeKey,
} from '../../../machines/plan/learning.ts'
import { drill, drillPatience } from '../../support/drill.ts'
import { learningShop, MATTE_BASE, type Truth } from '../../support/learningShop.ts'

const measured = (...values: number[]) => values.map((value) => ({ lo: value, hi: value }))
const readAll = (entries: readonly Draft[]) => entries.reduce(learnedAfter, NOTHING_LEARNED)

describe('a figure that is learned', () => {
  test('without a case the sheet’s own figure stands', () => {
    expect(learnedFrom([])).toEqual(NOT_LEARNED)
    expect(NOT_LEARNED).toMatchObject({ factor: 1, cases: 0, sheetWeight: 1 })
  })

  test('the median of what was measured, also of an even number', () => {
    expect(learnedFrom(measured(1.5, 0.9, 1.2)).median).toBe(1.2)
    expect(learnedFrom(measured(1.5, 0.9, 1.2, 1.4)).median).toBeCloseTo(1.3, 12)
  })

  test('one case far off moves nothing yet, twenty move nearly all of it', () => {
    expect(learnedFrom(measured(1.4)).factor).toBe(1)
    const many = learnedFrom(measured(...Array.from({ length: 20 }, (_, i) => 1.3 + i / 100)))
    expect(many.sheetWeight).toBeLessThan(0.15)
    expect(many.factor).toBeGreaterThan(1.34)
  })

  test('a look that found it matte says no more than that it was not later', () => {
    // All of them looked when the bell rang: nothing speaks against the sheet.
    const atBell = Array.from({ length: 20 }, () => ({ lo: 0, hi: 1 }))
    expect(learnedFrom(atBell)).toMatchObject({ median: 1, factor: 1 })
    // Looked sooner, and matte already: the sheet is too slow.
    const sooner = Array.from({ length: 20 }, (_, i) => ({ lo: 0, hi: 0.6 + i / 100 }))
    expect(learnedFrom(sooner).median).toBeLessThan(0.8)
  })

  test('between two looks lies what is counted', () => {
    const between = Array.from({ length: 20 }, (_, i) => ({ lo: 1.2 + i / 200, hi: 1.3 + i / 200 }))
    const { median } = learnedFrom(between)
    expect(median).toBeGreaterThan(1.2)
    expect(median).toBeLessThan(1.4)
  })

  test('the middle half holds half of the cases', () => {
    const values = Array.from({ length: 41 }, (_, i) => 1 + i / 40)
    const { spread, factor, median } = learnedFrom(measured(...values))
    expect(spread[0] / factor).toBeCloseTo(1.25 / Number(median), 6)
    expect(spread[1] / factor).toBeCloseTo(1.75 / Number(median), 6)
  })
})

const FAIR: Truth = {
  spray: { base: 1.3, clear: 0.8 },
  volume: { base: 1.25, clear: 0.75 },
  matte: 1.3,
  degrease: 1.5,
}

describe('a log that is read for its figures', () => {
  test('names what it found by stage, gun, product and work', () => {
    const { entries } = learningShop(FAIR, 8, 3)
    const keys = Object.keys(figuresOf(readAll(entries)))
    for (const key of [
      sprayKey('base'),
      sprayKey('clear'),
      volumeKey('base', 'gun-1'),
      volumeKey('clear', 'gun-2'),
      matteKey(MATTE_BASE.sheet),
      handKey('degrease'),
    ])
      expect(keys).toContain(key)
  })

  test('what a voided entry said is taken away again', () => {
    const shop = learningShop(FAIR, 2, 3)
    const before = readAll(shop.entries)
    const key = sprayKey('clear')
    const [first] = before.cases[key] ?? []
    const finish = shop.entries.find(({ id }) => id === first?.entry) as Draft
    const voiding = {
      ...finish,
      id: 'v.0',
      type: 'EntryVoided',
      data: { entry: finish.id, type: finish.type },
    }
    const after = learnedAfter(before, voiding)
    expect(after.cases[key]?.length).toBe((before.cases[key]?.length ?? 0) - 1)
    expect(after.cases[key]).not.toContainEqual(first)
  })

  test('a shop that sets its own spraying time starts to count anew', () => {
    const shop = learningShop(FAIR, 2, 3)
    const known = readAll(shop.entries)
    const said = shop.do('ChangeSettings', { limits: { sprayMinPerM2: 3 } })
    const after = said.reduce(learnedAfter, known)
    expect(Object.keys(after.cases).filter((key) => key.startsWith('spray:'))).toEqual([])
    expect(after.cases[matteKey(MATTE_BASE.sheet)]).toBe(known.cases[matteKey(MATTE_BASE.sheet)])
  })

  test('it stays as large, however many jobs are over', () => {
    const { entries } = learningShop(FAIR, 70, 5)
    const size = (many: number) => JSON.stringify(readAll(entries.slice(0, many))).length
    const sixty = size(Math.round((entries.length * 60) / 70))
    expect(size(entries.length)).toBeLessThan(sixty * 1.1)
  })

  test('a finish that was forgotten over lunch is no case', () => {
    const shop = learningShop(FAIR, 1, 3)
    const start = shop.entries.find(({ type }) => type === 'CoatStarted') as Draft
    const finish = shop.entries.find(({ type }) => type === 'CoatFinished') as Draft
    const before = readAll(shop.entries.slice(0, shop.entries.indexOf(finish as never)))
    const late = {
      ...finish,
      at: start.at + 3_600_000 * 2,
      data: { ...finish.data, passEndsAt: start.at + 3_600_000 * 2 },
    }
    expect(learnedAfter(before, late).cases[sprayKey('base')]).toBeUndefined()
    expect(learnedAfter(before, finish).cases[sprayKey('base')]?.length).toBe(1)
  })
})

/** The names of the three figures that are judged, and how far each is off after some jobs. */
function errors(truth: Truth, seed: number) {
  const figures = figuresOf(readAll(learningShop(truth, 20, seed).entries))
  const of = (key: string) => figures[key]?.factor ?? 1
  const pairs = {
    litres: [
      [of(volumeKey('base', 'gun-1')), truth.volume.base],
      [of(volumeKey('clear', 'gun-2')), truth.volume.clear],
    ],
    spraying: [
      [of(sprayKey('base')), truth.spray.base],
      [of(sprayKey('clear')), truth.spray.clear],
    ],
    matte: [[of(matteKey(MATTE_BASE.sheet)), truth.matte]],
  } as const
  return Object.entries(pairs).map(([what, all]) => ({
    what,
    own: all.reduce((sum, [learned, real]) => sum + Math.abs(learned - real), 0),
    sheet: all.reduce((sum, [, real]) => sum + Math.abs(1 - real), 0),
  }))
}

/** Sums over some shops whose factors lie within a share of the sheet's. */
function summed(within: number, name: string) {
  const { rounds, seed, dice, done } = drill(name, { small: 20, long: 200 })
  const factor = () => 1 - within + 2 * within * dice.next()
  const sums = new Map<string, { own: number; sheet: number }>()
  for (let shop = 0; shop < rounds; shop += 1) {
    const truth: Truth = {
      spray: { base: factor(), clear: factor() },
      volume: { base: factor(), clear: factor() },
      matte: factor(),
      degrease: factor(),
    }
    for (const { what, own, sheet } of errors(truth, seed * 100_003 + shop)) {
      const sum = sums.get(what) ?? { own: 0, sheet: 0 }
      sums.set(what, { own: sum.own + own, sheet: sum.sheet + sheet })
    }
  }
  const shares = Object.fromEntries([...sums].map(([what, s]) => [what, s.own / s.sheet]))
  done(Object.fromEntries(Object.entries(shares).map(([what, x]) => [what, x.toFixed(3)])))
  return shares
}

describe('after twenty jobs of a shop', () => {
  test(
    'whose work differs from the sheets by up to 40 %, the error is at most a third of the sheet’s',
    () => {
      for (const share of Object.values(summed(0.4, 'learning a shop that differs')))
        expect(share).toBeLessThanOrEqual(1 / 3)
    },
    drillPatience,
  )

  test(
    'whose work is within 5 % of the sheets, the error is at most 1.1 times the sheet’s',
    () => {
      for (const share of Object.values(summed(0.05, 'learning a shop that does not')))
        expect(share).toBeLessThanOrEqual(1.1)
    },
    drillPatience,
  )
})
