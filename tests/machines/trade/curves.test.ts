import { describe, expect, test } from 'vitest'
import { minutesAt } from '../../../machines/clock/interval.ts'
import { intervalCurve, type SheetTimes, sheetCurves } from '../../../machines/trade/curves.ts'
import { answer } from './asking.ts'

const sheet: SheetTimes = {
  medium: 'solvent',
  potLife: [
    { atC: 20, minutes: 60 },
    { atC: 30, minutes: 35 },
  ],
  flashBetween: [{ atC: 20, minutes: 10 }],
  flashBeforeNext: [{ atC: 20, minutes: 0 }],
  recoatWithin: 'mustSand',
  cure: { air: [{ atC: 20, minutes: 720 }] },
}

describe('a sheet’s curves', () => {
  test('each interval has a point a degree from 5 to 40 °C, the same the calculator gives', () => {
    for (const { kind, points } of sheetCurves(sheet).filter((c) => c.name === 'potLife')) {
      expect(points.map((p) => p.atC)).toEqual(Array.from({ length: 36 }, (_, i) => i + 5))
      for (const { atC, minutes } of points) {
        const asked = { kind, points: sheet.potLife, atC }
        expect(minutes).toBe(answer('interval', asked).minutes)
      }
    }
  })

  test('what a sheet leaves open, or says in a word, has no curve', () => {
    expect(sheetCurves(sheet).map((curve) => curve.name)).toEqual([
      'potLife',
      'flashBetween',
      'flashBeforeNext',
      'cure.air',
    ])
    expect(sheetCurves({ ...sheet, potLife: null })[0]?.name).toBe('flashBetween')
  })

  test('a wait never falls and a permission never rises towards caution as it gets colder', () => {
    for (const { kind, points } of sheetCurves(sheet)) {
      for (const [i, point] of points.entries()) {
        const warmer = points[i + 1]
        if (warmer) expect(point.minutes, kind).toBeGreaterThanOrEqual(warmer.minutes)
      }
    }
    expect(intervalCurve('notAfter', [{ atC: 20, minutes: 60 }])[0]?.minutes).toBe(60)
  })

  test('a waterborne flash depends on the air’s humidity, and stops in air too damp', () => {
    const base: SheetTimes = { ...sheet, medium: 'waterborne', rhRef: 0.4 }
    const flash = (rh?: number) =>
      sheetCurves(base, rh)
        .find((curve) => curve.name === 'flashBetween')
        ?.points.find((p) => p.atC === 20)?.minutes
    expect(flash()).toBe(10)
    expect(flash(0.8)).toBeCloseTo(30, 9)
    expect(flash(0.97)).toBeUndefined()
    const pot = sheetCurves(base, 0.97).find((curve) => curve.name === 'potLife')
    expect(pot?.points[15]?.minutes).toBe(minutesAt('notAfter', sheet.potLife ?? [], 20))
  })
})
