import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { causesOf, DEFECTS, NOT_VISIBLE } from '../../../machines/trace/causes.ts'
import { RATIO } from '../../../machines/trace/rank.ts'
import { bandOf, isKept, type Kept, NOT_KEPT, SIGNALS } from '../../../machines/trace/signals.ts'
import { traced } from '../../../machines/trace/trace.ts'
import { jobShowing } from '../../support/planted.ts'
import {
  BESIDE,
  DEFECT_FEATURES,
  FEATURES,
  type Feature,
  RANKING,
  RECORD,
} from '../../support/traceAsked.ts'

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

test.each([...RANKING, ...RECORD])('%s is shown by a test of %s', (_, file, title) => {
  expect(readFileSync(join(import.meta.dirname, '../..', file), 'utf8')).toContain(title)
})
