import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { causesOf, DEFECTS, type Defect, NOT_VISIBLE } from '../../../machines/trace/causes.ts'
import { RATIO, rank, type Verdict } from '../../../machines/trace/rank.ts'
import {
  type Finding,
  isKept,
  type Kept,
  LEVELS,
  type Level,
  levelOf,
  SIGNALS,
} from '../../../machines/trace/signals.ts'

/** How causes are weighed, apart from how their figures are found. */

const DOOR = 'DDDD2222'
const SILL = 'SSSS2222'
const found = (signal: Kept, level: Level, more: Partial<Finding> = {}): Finding => ({
  ...{ signal, level, value: 1, limit: 1, panel: DOOR, stage: 'clear', over: 'base' },
  ...{ coat: 1, cup: 'CCCC2222', at: 1_000, entry: `${signal}.0`, ...more },
})
const ask = (defect: Defect, all: readonly Finding[], more = {}, panels = [DOOR]): Verdict =>
  rank({ defect, panels: [DOOR], ...more }, all, panels)
const shareOf = ({ causes }: Verdict, id: string) => causes.find((c) => c.id === id)?.share ?? 0
const odds = (verdict: Verdict, id: string) => shareOf(verdict, id) / shareOf(verdict, 'notVisible')

test('a figure is mild, clear and severe where its table says so', () => {
  const ratio = (waited: number) => levelOf('flashShort', waited)
  expect([1.2, 1, 0.95, 0.9, 0.7, 0.5, 0.2].map(ratio)).toEqual([
    ...['clearlyWithin', 'clearlyWithin', 'within', 'mild', 'clear', 'severe', 'severe'],
  ])
  expect(levelOf('flashShort', 1.2, false)).toBe('within')
  expect([0, 0.05, 0.1, 0.15].map((off) => levelOf('activatorShort', off))).toEqual([
    ...['clearlyWithin', 'mild', 'clear', 'severe'],
  ])
})

test('the causes of each defect and what is not visible add up to one, the most usual first', () => {
  expect(DEFECTS).toHaveLength(23)
  for (const defect of DEFECTS) {
    const priors = causesOf(defect).map(({ prior }) => prior)
    expect(priors.reduce((a, b) => a + b, NOT_VISIBLE)).toBeCloseTo(1)
    expect(priors).toEqual(priors.toSorted((a, b) => b - a))
    expect(priors.length).toBeGreaterThanOrEqual(2)
  }
  expect(NOT_VISIBLE).toBeGreaterThanOrEqual(0.2)
  expect(NOT_VISIBLE).toBeLessThanOrEqual(0.3)
})

test.each([
  ['severe', 6],
  ['clear', 3],
  ['mild', 1.5],
  ['within', 0.5],
  ['clearlyWithin', 0.25],
] as const)('%s counts ×%d', (level, times) => {
  const nothing = odds(ask('solventPop', []), 'hot')
  expect(odds(ask('solventPop', [found('hot', level)]), 'hot') / nothing).toBeCloseTo(times)
})

describe('only evidence in the right place counts', () => {
  const before = odds(ask('mottle', []), 'flashShort')
  test.each([
    ['another panel', { panel: SILL }],
    ['another layer', { stage: 'clear' }],
    ['after it was seen', { stage: 'base', at: 2_001 }],
  ])('%s does not', (_, more) => {
    const verdict = ask('mottle', [found('flashShort', 'severe', more)], { noticedAt: 2_000 })
    expect(odds(verdict, 'flashShort')).toBeCloseTo(before)
  })
  test('the base of this panel does', () => {
    const verdict = ask('mottle', [found('flashShort', 'severe', { stage: 'base' })])
    expect(odds(verdict, 'flashShort')).toBeCloseTo(6 * before)
  })
})

describe('what the other panels say', () => {
  const cupOf = (panel: string) => found('activatorShort', 'severe', { panel })
  const flashOf = (panel: string, level: Level) => found('flashShort', level, { panel })
  test('a cup that sprayed a sound panel as well is half as likely', () => {
    const alone = odds(ask('dieback', [cupOf(DOOR)], {}, [DOOR]), 'activatorShort')
    const both = odds(
      ask('dieback', [cupOf(DOOR), cupOf(SILL)], {}, [DOOR, SILL]),
      'activatorShort',
    )
    expect(both / alone).toBeCloseTo(0.5)
  })
  test('a wait that only the bad panel had short is twice as likely', () => {
    const alone = odds(ask('dieback', [flashOf(DOOR, 'clear')]), 'flashShort')
    const all = [flashOf(DOOR, 'clear'), flashOf(SILL, 'clearlyWithin')]
    expect(odds(ask('dieback', all, {}, [DOOR, SILL]), 'flashShort') / alone).toBeCloseTo(2)
  })
  test('where all of them have it the cup is twice as likely', () => {
    const alone = odds(ask('dieback', [cupOf(DOOR)]), 'activatorShort')
    const all = rank(
      { defect: 'dieback', panels: [DOOR, SILL] },
      [cupOf(DOOR), cupOf(SILL)],
      [DOOR, SILL],
    )
    expect(odds(all, 'activatorShort') / alone).toBeCloseTo(2)
  })
})

test('short flash, heavy film and cold act together: one group, at most ×12', () => {
  const all = [found('filmHeavy', 'severe'), found('flashShort', 'severe'), found('cold', 'severe')]
  const verdict = ask('runs', all)
  const [first] = verdict.causes
  expect([first?.id, ...(first?.together ?? [])]).toEqual(['filmHeavy', 'flashShort', 'cold'])
  const priors = causesOf('runs').filter(({ id }) =>
    ['filmHeavy', 'flashShort', 'cold'].includes(id),
  )
  const sum = priors.reduce((total, { prior }) => total + prior, 0)
  expect(odds(verdict, 'filmHeavy')).toBeCloseTo((12 * sum) / NOT_VISIBLE)
})

test('what is not visible is always there, and nothing recorded decides nothing', () => {
  for (const defect of DEFECTS) {
    const verdict = ask(defect, [])
    expect(verdict.causes.some(({ id }) => id === 'notVisible')).toBe(true)
    expect(verdict.decides).toBe(false)
    expect(verdict.causes.every(({ verdict: is }) => is === 'notRecorded')).toBe(true)
  }
})

const kept = Object.keys(SIGNALS) as Kept[]
const finding = fc.record({
  signal: fc.constantFrom(...kept),
  level: fc.constantFrom(...LEVELS),
  stage: fc.constantFrom('base', 'clear', 'primer'),
})
const many = fc
  .array(finding, { maxLength: 25 })
  .map((all) =>
    all.map(({ signal, level, stage }, i) => found(signal, level, { stage, entry: `e${i}.0` })),
  )
const rankOf = ({ causes }: Verdict, id: string) =>
  causes.findIndex((c) => c.id === id || (c.together as readonly string[]).includes(id))

test('a matching figure made worse never lowers its cause', () => {
  const wish = fc.tuple(fc.constantFrom(...DEFECTS), many, fc.nat())
  fc.assert(
    fc.property(wish, ([defect, all, n]) => {
      const at = all.findIndex(({ level }, i) => i >= n % (all.length || 1) && level !== 'severe')
      const one = all[at]
      if (!one) return
      const worse = all.with(at, { ...one, level: LEVELS[LEVELS.indexOf(one.level) + 1] as Level })
      const [before, after] = [ask(defect, all), ask(defect, worse)]
      for (const cause of causesOf(defect).filter((c) => c.signals.includes(one.signal)))
        expect(rankOf(after, cause.id)).toBeLessThanOrEqual(rankOf(before, cause.id))
    }),
  )
})

test('a fact taken away never makes the record surer', () => {
  const surest = ({ causes }: Verdict) =>
    Math.max(...causes.filter(({ id }) => id !== 'notVisible').map(({ least }) => least))
  const wish = fc.tuple(fc.constantFrom(...DEFECTS), many, fc.nat())
  fc.assert(
    fc.property(wish, ([defect, all, n]) => {
      if (all.length === 0) return
      // A figure that is not kept at all: every coat's reading of it is gone.
      const gone = all[n % all.length]?.signal
      const less = all.filter(({ signal }) => signal !== gone)
      const [before, after] = [ask(defect, all), ask(defect, less)]
      expect(surest(after)).toBeLessThanOrEqual(surest(before) + 1e-9)
      if (!before.decides) expect(after.decides).toBe(false)
    }),
  )
})

test('a record without any bad figure supports nothing', () => {
  const good = kept.flatMap((signal) =>
    ['base', 'clear', 'primer'].map((stage) => found(signal, 'clearlyWithin', { stage })),
  )
  for (const defect of DEFECTS) {
    const { causes, decides } = ask(defect, good)
    expect(
      causes[0]?.id === 'notVisible' || causesOf(defect).some((c) => !c.signals.every(isKept)),
    ).toBe(true)
    expect(causes.filter(({ verdict }) => verdict === 'supported')).toEqual([])
    expect(decides).toBe(false)
  }
  expect(RATIO.clearlyWithin).toBeLessThan(RATIO.within)
})
