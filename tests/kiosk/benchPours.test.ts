import { describe, expect, test } from 'vitest'
import { pouredBy } from '../../kiosk/bench/poured.ts'
import { type Mix, type Pour, pouredOf, pourView, whenMixed } from '../../kiosk/bench/pours.ts'
import { linesOf } from '../../kiosk/device/serialLine.ts'
import { readWeight } from '../../kiosk/device/weight.ts'
import { reasonText } from '../../kiosk/ui/reasonText.ts'
import { es } from '../../kiosk/words/all.es.ts'
import { en } from '../../kiosk/words/all.ts'
import { check } from '../../machines/accept.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { sheetSchema } from '../../machines/sheet/sheetSchema.ts'
import { CLEAR } from '../support/sheets.ts'

const sheetOf = (given: object): Sheet => {
  const checked = check(sheetSchema, given)
  if (!checked.ok) throw new Error(JSON.stringify(checked.error))
  return checked.value
}
/** 2:1, 1.00 and 1.05 g/mL: 300 mL are 200 g and 105 g. */
const clear = sheetOf(CLEAR)
const mix = (change: Partial<Mix> = {}): Mix => ({
  sheet: clear,
  totalMl: 300,
  stepG: 0.1,
  cupMl: null,
  ...change,
})
const pour = (part: number, g: number | null, at = 0): Pour => ({ part, g, at })

test('the scale’s targets are running readings, with the cup tared at the start', () => {
  const empty = pourView(mix(), [])
  expect(empty.next).toEqual({ part: 0, readingG: 200, isTopUp: false })
  const base = pourView(mix(), [pour(0, 200)])
  expect(base.next).toEqual({ part: 1, readingG: 305, isTopUp: false })
  const all = pourView(mix(), [pour(0, 200), pour(1, 105)])
  expect(all).toMatchObject({ next: null, isAllIn: true, errorPct: 0, over: null, readingG: 305 })
})

test('readings come at the scale’s own step', () => {
  expect(pourView(mix({ totalMl: 100 }), []).next?.readingG).toBe(66.7)
  expect(pourView(mix({ totalMl: 100, stepG: 1 }), []).next?.readingG).toBe(67)
})

test('a pour as near as the scale can show is not an over-pour', () => {
  const view = pourView(mix({ totalMl: 100, stepG: 1 }), [pour(0, 67)])
  expect(view.over).toBeNull()
  expect(view.totalMl).toBeCloseTo(100, 9)
})

test('too much of the base makes the rest and the total grow', () => {
  const view = pourView(mix({ cupMl: 400 }), [pour(0, 250)])
  expect(view.over).toEqual({ part: 0, byG: 50 })
  expect(view.totalMl).toBeCloseTo(375, 9)
  expect(view.next?.readingG).toBeCloseTo(250 + 131.3, 6)
  expect(view.fits).toBe(true)
  expect(pourView(mix({ cupMl: 350 }), [pour(0, 250)]).fits).toBe(false)
})

test('too much activator asks for a top-up of the base, which sets the ratio right', () => {
  const pours = [pour(0, 200), pour(1, 126)]
  const view = pourView(mix(), pours)
  expect(view).toMatchObject({ isAllIn: true, over: { part: 1, byG: 21 } })
  expect(view.errorPct).toBeCloseTo(20, 9)
  expect(view.next).toEqual({ part: 0, readingG: 366, isTopUp: true })
  const right = pourView(mix(), [...pours, pour(0, 40)])
  expect(right.next).toBeNull()
  expect(right.errorPct).toBeCloseTo(0, 9)
  expect(right.totalMl).toBeCloseTo(360, 9)
})

test('only a mix outside its tolerance is off, and no longer once it is topped up', () => {
  // Up to a tenth too much activator is within it.
  expect(pourView(mix(), [pour(0, 200), pour(1, 115)]).isOff).toBe(false)
  const off = [pour(0, 200), pour(1, 220)]
  expect(pourView(mix(), off)).toMatchObject({ isOff: true, next: { part: 0, isTopUp: true } })
  expect(pourView(mix(), [...off, pour(0, 219)]).isOff).toBe(false)
  // Nothing is judged until every component is in.
  expect(pourView(mix(), [pour(0, 200)]).isOff).toBe(false)
})

test('too little of something is asked for again after the others', () => {
  const view = pourView(mix(), [pour(0, 190), pour(1, 105)])
  expect(view.next).toEqual({ part: 0, readingG: 305, isTopUp: true })
  expect(view.over).toBeNull()
})

test('of what is short the most is added first', () => {
  const [clear, activator] = CLEAR.components
  const reducer = { name: 'reducer', role: 'reducer', parts: 1, densityGPerMl: 1 }
  const three = sheetOf({ ...CLEAR, components: [clear, activator, reducer] })
  // 20 g of clear, 5.25 g of activator and 60 g of reducer are short.
  const view = pourView(mix({ sheet: three, totalMl: 400 }), [
    pour(0, 180),
    pour(1, 99.75),
    pour(2, 40),
  ])
  expect(view.next).toMatchObject({ part: 2, isTopUp: true })
})

test('a sheet without densities is poured by the marks of the cup', () => {
  const bare = sheetOf({
    ...CLEAR,
    components: CLEAR.components.map(({ densityGPerMl: _, ...c }) => c),
  })
  const view = pourView(mix({ sheet: bare }), [pour(0, null)])
  expect(view.lines.map((line) => Math.round(line.markMl))).toEqual([200, 300])
  expect(view.next).toEqual({ part: 1, readingG: null, isTopUp: false })
  expect(pouredOf(mix({ sheet: bare }), [pour(0, null), pour(1, null)])).toEqual({
    totalMl: 300,
    activatedAt: 0,
  })
})

test('the command says what was weighed of each component, what that makes, and when the activator went in', () => {
  const pours = [pour(0, 200, 1_000), pour(1, 126, 2_000), pour(0, 40, 3_000)]
  expect(pouredOf(mix(), pours)).toEqual({
    totalMl: 360,
    pouredG: [240, 126],
    activatedAt: 2_000,
  })
})

test('a component with no part in the ratio is not poured, and is zero in the command', () => {
  const [base, activator] = CLEAR.components
  const sheet = sheetOf({
    ...CLEAR,
    components: [
      base,
      { name: 'reducer', role: 'reducer', parts: 0, densityGPerMl: 0.87 },
      activator,
    ],
  })
  const view = pourView(mix({ sheet }), [pour(0, 200)])
  expect(view.next?.part).toBe(2)
  expect(pouredOf(mix({ sheet }), [pour(0, 200), pour(2, 105)]).pouredG).toEqual([200, 0, 105])
})

test('a share smaller than the scale shows never asks for less than is in the cup', () => {
  const components = [
    { name: 'base', role: 'base', parts: 1000, densityGPerMl: 1 },
    { name: 'additive', role: 'additive', parts: 0.2, densityGPerMl: 1 },
  ]
  const sheet = sheetOf({ ...CLEAR, components, activators: [] })
  const view = pourView(mix({ sheet, totalMl: 212.4, stepG: 1 }), [pour(0, 212.4)])
  expect(view.next).toEqual({ part: 1, readingG: 212.4, isTopUp: false })
})

test('a mix finished long after its activator went in says so in every language', () => {
  expect(whenMixed(null, 700_000)).toEqual({})
  expect(whenMixed(100_000, 700_000)).toEqual({ at: 100_000 })
  const { at, reason } = whenMixed(100_000, 700_001)
  expect(at).toBe(100_000)
  expect(reasonText(reason ?? '', en)).toBe('entered late')
  expect(reasonText(reason ?? '', es)).toBe('anotado tarde')
})

describe('what a scale says', () => {
  test.each([
    ['212.4', 212.4],
    ['+00212,4 g', 212.4],
    ['S S   0.2124 kg', 212.4],
    ['ST,+  12.0 G', 12],
    ['0', 0],
  ])('%s is %s g', (text, g) => {
    expect(readWeight(text)).toEqual({ kind: 'weight', g })
  })

  test.each(['', 'stable', '--', '7.5 oz', '0.4 lb', '1,234.5 g', '1.234,5'])(
    '%s is no weight in grams',
    (text) => {
      expect(readWeight(text)).toEqual({ kind: 'noNumber' })
    },
  )

  test('a bar code is not a weight', () => {
    expect(readWeight('4006381333931')).toEqual({ kind: 'tooMuch' })
  })

  test('what was poured is what the scale shows more than before', () => {
    expect(pouredBy('305', 200)).toEqual({ kind: 'poured', g: 105 })
    expect(pouredBy('199.9', 200)).toEqual({ kind: 'wrong', code: 'tooFew' })
    expect(pouredBy('much', 200)).toEqual({ kind: 'wrong', code: 'noNumber' })
  })

  test('lines are taken whole, whatever ends them; the last one waits for its end', () => {
    expect(linesOf('12.0 g\r\n13.5 g\n14.')).toEqual({ lines: ['12.0 g', '13.5 g'], rest: '14.' })
  })
})
