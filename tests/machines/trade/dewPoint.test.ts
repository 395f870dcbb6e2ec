import psychrolib from 'psychrolib'
import { describe, expect, test } from 'vitest'
import { saturationHpa } from '../../../machines/clock/moistAir.ts'
import dewpoint from '../../reference/dewpoint.json'
import { answer, refusal } from './asking.ts'

const dew = (airC: number, rh: number) => answer('dewPoint', { airC, rh }).dewPointC
const celsius = (fahrenheit: number) => (fahrenheit - 32) / 1.8

describe('dew point against published values', () => {
  test('agrees with WMO-No. 8 worked over a grid of air', () => {
    for (const { tC, rhPct, dewMagnusC } of dewpoint.grid.rows) {
      expect(Math.abs(dew(tC, rhPct / 100) - dewMagnusC), `${tC} °C ${rhPct} %`).toBeLessThan(0.006)
    }
  })

  test('agrees with another library (psychrolib, ASHRAE formulas) wherever dew, not frost, forms', () => {
    psychrolib.SetUnitSystem(psychrolib.SI)
    for (const { tC, rhPct, dewMagnusC } of dewpoint.grid.rows) {
      if (dewMagnusC < 0) continue
      const second = psychrolib.GetTDewPointFromRelHum(tC, rhPct / 100)
      expect(Math.abs(dew(tC, rhPct / 100) - second), `${tC} °C ${rhPct} %`).toBeLessThan(0.041)
    }
  })

  test('saturation pressure is within 0.31 % of ASHRAE Fundamentals 2017 from 5 to 50 °C', () => {
    for (const [tC, pa] of Object.entries(dewpoint.ashrae2017.satVapPresPa)) {
      if (Number(tC) < 5 || Number(tC) > 50) continue
      expect(Math.abs((saturationHpa(Number(tC)) * 100) / pa - 1)).toBeLessThan(0.0031)
    }
  })

  test('ASHRAE 2017 chapter 1 example 1: 40 °C dry bulb at 14 % has its dew point near 7 °C', () => {
    const { dewC, dewTolC, RH } = dewpoint.example1
    expect(Math.abs(dew(40, RH) - dewC)).toBeLessThan(dewTolC)
  })

  test('stays within 2.5 °F of a printed shop chart in the air people spray in, 40 to 100 °F', () => {
    const { columnsF, rows } = dewpoint.fahrenheitChart
    for (const { rhPct, dewF } of rows) {
      for (const [i, printed] of dewF.entries()) {
        // Below freezing a chart may print frost points.
        const airF = columnsF[i] as number
        if (printed < 32 || airF > 100) continue
        const ours = dew(celsius(airF), rhPct / 100) * 1.8 + 32
        expect(Math.abs(ours - printed), `${airF} °F ${rhPct} %`).toBeLessThan(2.5)
      }
    }
  })
})

describe('dew point at the bench', () => {
  test('gives the margin of a surface, and none where no surface was measured', () => {
    const cold = answer('dewPoint', { airC: 20, rh: 0.5, surfaceC: 11 })
    expect(cold.marginC).toBeCloseTo(11 - 9.26, 2)
    expect(answer('dewPoint', { airC: 20, rh: 0.5 })).not.toHaveProperty('marginC')
  })

  test('saturated air has its dew point at its own temperature', () => {
    expect(dew(23, 1)).toBeCloseTo(23, 9)
  })

  test('a humidity of 55 is refused with what 55 % is; so are 0, NaN and air of 400', () => {
    expect(refusal('dewPoint', { airC: 20, rh: 55 })).toMatchObject({
      field: 'rh',
      message: "rh: 55 won't work. Use a number above 0, up to 1 (0.55 is 55 %).",
    })
    expect(refusal('dewPoint', { airC: 20, rh: 0 }).field).toBe('rh')
    expect(refusal('dewPoint', { airC: Number.NaN, rh: 0.5 }).field).toBe('airC')
    expect(refusal('dewPoint', { airC: 400, rh: 0.5 }).message).toMatch(/airC: 400 won't work. Use/)
  })
})
