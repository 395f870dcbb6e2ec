import { describe, expect, test } from 'vitest'
import reference from '../../reference/flowcup.json'
import { answer, refusal } from './asking.ts'

const mm2 = (cup: string, seconds: number) => answer('viscosity', { cup, seconds }).mm2PerS

describe('flow cups against published values', () => {
  test('check points of ASTM D1200, ISO 2431 and DIN 53211 (public transcriptions)', () => {
    for (const { cup, t, v } of [...reference.checkPoints, ...reference.derivedISO]) {
      expect(Math.abs(mm2(cup, t) / v - 1), `${cup} at ${t} s`).toBeLessThan(0.0001)
    }
    expect(mm2('Ford 4', 80)).toBeCloseTo(290.71, 2)
  })

  test('a Ford 4 at 46 s is 159.81, not the misprint of a web example', () => {
    expect(mm2('Ford 4', 46)).toBeCloseTo(159.81, 2)
  })

  test('drain times of standard oils in Ford cups, within 3.3 % (viscosity-standards page)', () => {
    for (const { fordCup, t, oilCst } of reference.standardOilChecks) {
      expect(Math.abs(mm2(`Ford ${fordCup}`, t) / oilCst - 1), `cup ${fordCup}`).toBeLessThan(0.033)
    }
  })

  test('the ends of a cup maker’s range chart, to its rounding', () => {
    for (const { isoCup, t, chartCst } of reference.isoRangeChecks) {
      expect(Math.abs(mm2(`ISO ${isoCup}`, t) / chartCst - 1), `cup ${isoCup}`).toBeLessThan(0.015)
    }
  })

  test('each cup is trusted exactly for its standard’s times', () => {
    const ranges: [string, number, number][] = [
      ...Object.entries(reference.fordASTM_D1200.validSeconds).map(
        ([n, [from, to]]): [string, number, number] => [`Ford ${n}`, from as number, to as number],
      ),
      ['DIN 4', 25, 150],
      ...['ISO 3', 'ISO 4', 'ISO 5', 'ISO 6'].map((n): [string, number, number] => [n, 30, 100]),
    ]
    for (const [cup, from, to] of ranges) {
      const inRange = (seconds: number) => answer('viscosity', { cup, seconds }).inRange
      expect([from - 0.1, from, to, to + 0.1].map(inRange), cup).toEqual([false, true, true, false])
    }
  })
})

describe('a flow time at the bench', () => {
  test('a time out of the cup’s range is answered and marked; one too short to measure is 0, never below', () => {
    expect(answer('viscosity', { cup: 'Ford 4', seconds: 12 }).inRange).toBe(false)
    expect(answer('viscosity', { cup: 'ISO 4', seconds: 2 })).toEqual({
      mm2PerS: 0,
      inRange: false,
    })
  })

  test('an unknown cup is refused with the cups there are', () => {
    const error = refusal('viscosity', { cup: 'Tea 3', seconds: 20 })
    expect(error.field).toBe('cup')
    expect(error.message).toContain('ISO 4')
    expect(refusal('viscosity', { cup: 'ISO 4', seconds: 0 }).field).toBe('seconds')
  })
})
