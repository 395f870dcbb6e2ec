import { describe, expect, test } from 'vitest'
import { es } from '../../../kiosk/words/all.es.ts'
import { en } from '../../../kiosk/words/all.ts'
import { traceIn } from '../../../kiosk/words/traceIn.ts'
import { causesOf, DEFECTS, NOT_VISIBLE } from '../../../machines/trace/causes.ts'
import { RATIO } from '../../../machines/trace/rank.ts'
import { bandOf, isKept, type Kept, NOT_KEPT, SIGNALS } from '../../../machines/trace/signals.ts'
import { causesIn, traced } from '../../../machines/trace/trace.ts'
import { jobShowing, singleCases } from '../../support/planted.ts'
import { notShown } from '../../support/shownBy.ts'
import { SimulatedJob } from '../../support/simulatedJob.ts'
import { BESIDE, DEFECT_FEATURES, FEATURES, type Feature } from '../../support/traceAsked.ts'
import { RANKING, RECORD } from '../../support/traceShown.ts'

/** Nothing of what a trace is asked for is missing, and nothing is there that nobody asked for. */

const own = ({ signals, without = [] }: Feature): Kept[] => [...signals, ...without]

test('twenty-six features: each signal belongs to one of them, and what is not kept is named', () => {
  expect(FEATURES).toHaveLength(26)
  const signals = FEATURES.flatMap(own)
  expect(signals.toSorted()).toEqual(Object.keys(SIGNALS).toSorted())
  const notKept = [...FEATURES.flatMap((one) => one.notKept ?? []), ...BESIDE]
  expect(notKept.toSorted()).toEqual([...NOT_KEPT].toSorted())
})

test.each(FEATURES.filter(({ band }) => band))('mild and severe: $name', ({ signals, band }) => {
  for (const signal of signals) {
    const { mild, severe } = bandOf(signal)
    expect([signal, mild, severe]).toEqual([signal, ...(band ?? [])])
  }
})

test.each(FEATURES.flatMap(own))('%s is found in a job in which it is so', (signal) => {
  const found = traced(jobShowing(signal).entries).findings.filter((f) => f.signal === signal)
  expect(found.filter(({ level }) => RATIO[level] > 1).length).toBeGreaterThan(0)
})

test('twenty-three defects in their order, with nothing beside their features', () => {
  expect(DEFECT_FEATURES.map(([defect]) => defect)).toEqual(DEFECTS)
  expect(DEFECTS).toHaveLength(23)
})

test.each(DEFECT_FEATURES)('%s has a cause for each of its features %j', (defect, features) => {
  const signals = causesOf(defect).flatMap((cause) => cause.signals)
  for (const n of features) {
    const one = FEATURES[n - 1] as Feature
    const all = [...own(one), ...(one.notKept ?? [])]
    const has = all.some((signal) => signals.includes(signal))
    expect([n, one.name, has]).toEqual([n, one.name, true])
  }
  // And the other way round: what it names is of one of these features, or no entry says it.
  const wanted = features.flatMap((n) => own(FEATURES[n - 1] as Feature))
  expect(signals.filter(isKept).filter((signal) => !wanted.includes(signal))).toEqual([])
})

test('ratios and the prior of what no log shows are those that were asked for', () => {
  const usual = { severe: 6, clear: 3, mild: 1.5, within: 0.5, clearlyWithin: 0.25 }
  expect(RATIO).toEqual(usual)
  expect(NOT_VISIBLE).toBeGreaterThanOrEqual(0.2)
  expect(NOT_VISIBLE).toBeLessThanOrEqual(0.3)
})

test.each([...RANKING, ...RECORD])('%s is asserted by a test that runs', (_, ...row) => {
  expect(notShown(...row)).toBeNull()
})

test('a row that names a comment, a test left out or something that is not asserted is told', () => {
  const rank = 'machines/trace/rank.test.ts'
  expect(notShown(rank, 'no such test', 'times')).toContain('no test')
  expect(notShown(rank, '%s counts ×%d', 'toBeCloseTo(twice)')).toContain('does not assert')
  // A comment of that test, and no assertion.
  expect(notShown('browser/trace.test.ts', 'The table says what is drawn', 'drawn')).not.toBeNull()
})

describe('how causes are ranked, in every job with a planted cause', () => {
  const cases = singleCases(4_711)
    .filter(({ severity }) => severity === 2)
    .map((one) => {
      const job = new SimulatedJob(one.plan)
      const all = traced(job.entries)
      return { ...one, all, told: causesIn(all, { defect: one.defect, panels: [job.panel] }) }
    })

  test('there are some of every defect, and something is supported in most of them', () => {
    expect(new Set(cases.map(({ defect }) => defect)).size).toBe(DEFECTS.length)
    const supported = cases.filter(({ told }) =>
      told.causes.some(({ verdict }) => verdict === 'supported'),
    )
    expect(supported.length).toBeGreaterThan(0.8 * cases.length)
  })

  test('shares are one together, and what no log shows is always among them', () => {
    for (const { told } of cases) {
      expect(told.causes.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1)
      expect(told.causes.filter(({ id }) => id === 'notVisible')).toHaveLength(1)
    }
  })

  test('each supported cause has numbers, a spot to jump to, a check and a remedy in both languages', () => {
    for (const { told, all } of cases)
      for (const cause of told.causes.filter(({ verdict }) => verdict === 'supported')) {
        expect(cause.speaksFor.length).toBeGreaterThan(0)
        for (const { entry, level } of cause.speaksFor) {
          expect(RATIO[level]).toBeGreaterThan(1)
          expect(all.findings.some((f) => f.entry === entry)).toBe(true)
        }
        expect(cause.check).not.toBeNull()
        for (const words of [en, es]) {
          const trace = traceIn(words)
          expect(trace.checks[cause.check as keyof typeof trace.checks]).toBeTruthy()
          expect(trace.remedies[told.defect]).toBeTruthy()
        }
      }
  })

  test('the record decides only where something is likely and half is recorded, and what is ruled out has nothing for it', () => {
    for (const { told } of cases) {
      const supported = told.causes.filter(({ verdict }) => verdict === 'supported')
      const surest = Math.max(0, ...supported.map(({ least }) => least))
      expect(told.decides).toBe(surest >= 0.35 && told.recordedShare >= 0.5)
      for (const { verdict, speaksFor, notRecorded } of told.causes)
        if (verdict === 'ruledOut') expect([speaksFor, notRecorded]).toEqual([[], []])
    }
  })

  test('what happened after the defect was seen speaks for nothing', () => {
    for (const { all, told, defect } of cases) {
      const at = told.causes.flatMap(({ speaksFor }) => speaksFor.map((f) => f.at))
      const panels = all.panels.map(({ id }) => id)
      const seen = causesIn(all, { defect, panels, noticedAt: Math.min(...at) - 1 })
      expect(seen.causes.flatMap(({ speaksFor }) => speaksFor)).toEqual([])
    }
  })
})
