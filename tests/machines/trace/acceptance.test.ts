import { expect, test } from 'vitest'
import {
  cleanCases,
  doubleCases,
  isStrong,
  scoreOf,
  singleCases,
  told,
} from '../../support/planted.ts'
import { patience } from '../../support/randomRuns.ts'

/**
 * Jobs with planted causes, played through the real rules: each defect with each of its three most usual
 * causes that a log can show, mild, clear and severe; thirty jobs with two causes; thirty with none.
 * What is counted as first competes with what no log shows as well.
 */

/** The figures were chosen on this one. */
const TUNED = 1
/** Never looked at while they were: it has to come to the same. */
const UNSEEN = 20_261_129
const SETS = [
  ['the seed that the figures were chosen on', TUNED],
  ['a seed that nobody tuned by', UNSEEN],
] as const

test.each(SETS)('planted causes are found: %s', { timeout: patience }, (_, seed) => {
  const score = scoreOf(singleCases(seed).map(told))
  expect(score.of).toBeGreaterThanOrEqual(198)
  expect(score.first / score.of).toBeGreaterThanOrEqual(0.8)
  expect(score.three / score.of).toBeGreaterThanOrEqual(0.95)
})

test.each(SETS)('of two causes one is first: %s', { timeout: patience }, (_, seed) => {
  const score = scoreOf(doubleCases(seed, 30).map(told))
  expect(score.first / score.of).toBeGreaterThanOrEqual(0.8)
  expect(score.three / score.of).toBeGreaterThanOrEqual(0.95)
})

test.each(SETS)('a clean job accuses nothing: %s', { timeout: patience }, (_, seed) => {
  const all = cleanCases(seed, 30).map(told)
  expect(all).toHaveLength(30)
  expect(all.filter(isStrong)).toEqual([])
  expect(all.filter(({ decides }) => decides)).toEqual([])
  expect(all.filter(({ top }) => top?.verdict === 'supported')).toEqual([])
})
