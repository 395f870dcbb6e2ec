import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { check } from '../../../machines/accept.ts'
import {
  type IntervalKind,
  minutesAt,
  pointsSchema,
  waterborneMinutes,
} from '../../../machines/clock/interval.ts'
import { airC, anyPoints, sanePoints } from '../../support/randomClimate.ts'
import { minutesByFigures } from '../../support/randomIntervals.ts'
import { runs } from '../../support/randomRuns.ts'
import { saidWrong } from '../../support/said.ts'

const kind = fc.constantFrom<IntervalKind>('notBefore', 'notAfter')
const anyC = fc.double({ min: -30, max: 200, noNaN: true })
const HAIR = 1e-9

describe('points as a sheet gives them', () => {
  const accepts = (points: unknown) => check(pointsSchema, points).ok

  test('two points less than half a degree apart are refused with what is accepted', () => {
    const hairApart = [
      { atC: 20, minutes: 60 },
      { atC: 20.001, minutes: 10 },
    ]
    const refused = check(pointsSchema, hairApart, 'potLife')
    expect(refused.ok ? '' : saidWrong(refused.error).message).toContain(
      'Use one or more points, at least 0.5 °C apart, all zero minutes or all above zero.',
    )
    expect(accepts([...hairApart.slice(0, 1), { atC: 20.5, minutes: 55 }])).toBe(true)
    expect(accepts([...hairApart.slice(0, 1), { atC: 20.4999, minutes: 55 }])).toBe(false)
    // The order in a sheet is free: neighbors are those in temperature.
    const three = [20, 30, 20.2].map((atC) => ({ atC, minutes: 10 }))
    expect(accepts(three)).toBe(false)
  })

  test('half a degree is half a degree wherever it lies on the scale', () => {
    fc.assert(
      fc.property(fc.integer({ min: -100, max: 890 }), (tenths) => {
        const points = [tenths, tenths + 5].map((t) => ({ atC: t / 10, minutes: 10 }))
        expect(accepts(points)).toBe(true)
      }),
      { numRuns: runs(100) },
    )
  })

  test('no points, or waits and no waits together, are refused', () => {
    expect(accepts([])).toBe(false)
    expect(accepts([{ atC: 20, minutes: 0 }])).toBe(true)
    expect(
      accepts([
        { atC: 20, minutes: 0 },
        { atC: 30, minutes: 10 },
      ]),
    ).toBe(false)
  })

  test('whatever a sheet may say, every temperature has a finite time', () => {
    const steep = fc
      .tuple(
        fc.double({ min: -10, max: 89, noNaN: true }),
        fc.double({ min: 0.5, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 527_040, noNaN: true }),
        fc.double({ min: 0, max: 527_040, noNaN: true }),
      )
      .map(([atC, apart, a, b]) => [
        { atC, minutes: a },
        { atC: atC + apart, minutes: b },
      ])
    fc.assert(
      fc.property(kind, fc.oneof(steep, anyPoints), anyC, (kind, points, atC) => {
        fc.pre(accepts(points))
        const minutes = minutesAt(kind, points, atC)
        expect(minutes).toBeGreaterThanOrEqual(0)
        expect(minutes).toBeLessThan(Number.POSITIVE_INFINITY)
      }),
      { numRuns: runs(500) },
    )
    const cliff = [
      { atC: 20, minutes: 500_000 },
      { atC: 20.5, minutes: 0.01 },
    ]
    expect(minutesAt('notBefore', cliff, -30)).toBeGreaterThan(500_000)
    expect(Number.isFinite(minutesAt('notBefore', cliff, -30))).toBe(true)
    expect(minutesAt('notAfter', cliff, 200)).toBe(0)
  })
})

describe('an interval at a temperature', () => {
  test('agrees with a calculation by activation energy', () => {
    fc.assert(
      fc.property(kind, anyPoints, airC, (kind, points, atC) => {
        const ours = minutesAt(kind, points, atC)
        expect(Math.abs(ours / minutesByFigures({ kind, points }, atC) - 1)).toBeLessThan(1e-7)
      }),
      { numRuns: runs(300) },
    )
  })

  test('gives each of the sheet’s own figures back as printed', () => {
    fc.assert(
      fc.property(kind, anyPoints, (kind, points) => {
        for (const p of points) expect(minutesAt(kind, points, p.atC)).toBe(p.minutes)
      }),
      { numRuns: runs(100) },
    )
  })

  test('lies between the figures on either side of it', () => {
    fc.assert(
      fc.property(
        kind,
        anyPoints,
        fc.double({ min: 0, max: 1, noNaN: true }),
        (kind, points, s) => {
          const sorted = points.toSorted((a, b) => a.atC - b.atC)
          for (const [i, warm] of sorted.entries()) {
            const cold = sorted[i - 1]
            if (!cold) continue
            const at = minutesAt(kind, points, cold.atC + s * (warm.atC - cold.atC))
            expect(at).toBeGreaterThanOrEqual(Math.min(cold.minutes, warm.minutes) * (1 - HAIR))
            expect(at).toBeLessThanOrEqual(Math.max(cold.minutes, warm.minutes) * (1 + HAIR))
          }
        },
      ),
      { numRuns: runs(200) },
    )
  })

  test('outside the sheet’s range a wait never falls below, nor a permission rises above, the end figure', () => {
    fc.assert(
      fc.property(anyPoints, anyC, (points, atC) => {
        const sorted = points.toSorted((a, b) => a.atC - b.atC)
        const [coldest, warmest] = [sorted[0], sorted.at(-1)]
        if (!coldest || !warmest || (atC >= coldest.atC && atC <= warmest.atC)) return
        const end = atC < coldest.atC ? coldest : warmest
        expect(minutesAt('notBefore', points, atC)).toBeGreaterThanOrEqual(end.minutes)
        expect(minutesAt('notAfter', points, atC)).toBeLessThanOrEqual(end.minutes)
      }),
      { numRuns: runs(300) },
    )
  })

  test('where warmer is faster on the sheet, no degree more ever makes it slower', () => {
    fc.assert(
      fc.property(kind, sanePoints, anyC, anyC, (kind, points, a, b) => {
        const [cold, warm] = [Math.min(a, b), Math.max(a, b)]
        const slow = minutesAt(kind, points, cold)
        expect(minutesAt(kind, points, warm)).toBeLessThanOrEqual(slow * (1 + HAIR))
      }),
      { numRuns: runs(500) },
    )
  })

  test('no wait stays no wait at every temperature', () => {
    fc.assert(
      fc.property(kind, anyPoints, anyC, (kind, points, atC) => {
        const zero = points.map((p) => ({ ...p, minutes: 0 }))
        expect(minutesAt(kind, zero, atC)).toBe(0)
      }),
      { numRuns: runs(50) },
    )
  })
})

describe('a waterborne flash', () => {
  const humidity = fc.double({ min: 0, max: 1, noNaN: true })
  const own = fc.record({ atC: airC, minutes: fc.double({ min: 0.5, max: 40, noNaN: true }) })
  const reference = fc.double({ min: 0, max: 0.94, noNaN: true })

  test('is never shorter than the sheet’s, and never ends from 95 % humidity on', () => {
    fc.assert(
      fc.property(own, reference, airC, humidity, (own, rhRef, atC, rh) => {
        const minutes = waterborneMinutes(own, rhRef, atC, rh)
        expect(minutes).toBeGreaterThanOrEqual(own.minutes)
        expect(Number.isFinite(minutes)).toBe(rh < 0.95)
      }),
      { numRuns: runs(200) },
    )
  })

  test('is never shorter in damper or colder air', () => {
    fc.assert(
      fc.property(own, reference, airC, airC, humidity, humidity, (own, rhRef, t1, t2, h1, h2) => {
        const best = waterborneMinutes(own, rhRef, Math.max(t1, t2), Math.min(h1, h2))
        const worst = waterborneMinutes(own, rhRef, Math.min(t1, t2), Math.max(h1, h2))
        expect(worst).toBeGreaterThanOrEqual(best)
      }),
      { numRuns: runs(200) },
    )
  })

  test('takes the sheet’s time in the sheet’s own air', () => {
    expect(waterborneMinutes({ atC: 20, minutes: 12 }, 0.5, 20, 0.5)).toBe(12)
  })
})
