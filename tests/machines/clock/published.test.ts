import { describe, expect, test } from 'vitest'
import { minutesAt } from '../../../machines/clock/interval.ts'
import { dewPointC, saturationHpa } from '../../../machines/clock/moistAir.ts'
import dewpoint from '../../reference/dewpoint.json'
import potlife from '../../reference/potlife.json'

const celsius = (fahrenheit: number) => (fahrenheit - 32) / 1.8

describe('moist air against published values', () => {
  // Source: WMO-No. 8 (2008), the Magnus formula worked over a grid of air.
  test('the dew point agrees with the grid calculated from the WMO formula', () => {
    for (const { tC, rhPct, dewMagnusC } of dewpoint.grid.rows) {
      const off = Math.abs(dewPointC(tC, rhPct / 100) - dewMagnusC)
      expect(off, `${tC} °C ${rhPct} %`).toBeLessThan(0.006)
    }
  })

  // Source: Hyland and Wexler's formulae as psychrolib has them; not compared where frost forms.
  test('the dew point agrees with a second formula within 0.04 °C above freezing', () => {
    const rows = dewpoint.grid.rows.filter((row) => row.dewMagnusC >= 0)
    expect(rows.length).toBeGreaterThan(50)
    for (const { tC, rhPct, dewHylandWexlerC } of rows) {
      const off = Math.abs(dewPointC(tC, rhPct / 100) - dewHylandWexlerC)
      expect(off, `${tC} °C ${rhPct} %`).toBeLessThan(0.046)
    }
  })

  // Source: ASHRAE Handbook - Fundamentals 2017, ch. 1 table 3.
  test('the saturation pressure is within 0.31 % of the ASHRAE table from 5 to 50 °C', () => {
    const rows = Object.entries(dewpoint.ashrae2017.satVapPresPa)
    for (const [tC, pa] of rows.filter(([tC]) => Number(tC) >= 5 && Number(tC) <= 50)) {
      expect(Math.abs((saturationHpa(Number(tC)) * 100) / pa - 1), `${tC} °C`).toBeLessThan(0.0031)
    }
  })

  // Source: the same chapter, example 1.
  test('air of 40 °C at 14 % has its dew point near 7 °C', () => {
    const { dewC, dewTolC, RH } = dewpoint.example1
    expect(Math.abs(dewPointC(40, RH) - dewC)).toBeLessThan(dewTolC)
  })

  // Source: a public dew-point chart in whole °F, up to 2.4 °F low against the formula.
  test('the dew point stays within 2.5 °F of a printed chart in the air people spray in', () => {
    const { columnsF, rows } = dewpoint.fahrenheitChart
    for (const { rhPct, dewF } of rows) {
      for (const [i, printed] of dewF.entries()) {
        const airF = columnsF[i] as number
        if (printed < 32 || airF > 100) continue
        const ours = dewPointC(celsius(airF), rhPct / 100) * 1.8 + 32
        expect(Math.abs(ours - printed), `${airF} °F ${rhPct} %`).toBeLessThan(2.5)
      }
    }
  })
})

/** Two figures of a product whose activation energy is given, as its maker would print them. */
function pointsOf(eaKJ: number, coldC: number, warmC: number, minutesCold: number) {
  const perKelvin = (eaKJ * 1000) / potlife.arrhenius.R
  const factor = Math.exp(perKelvin * (1 / (warmC + 273.15) - 1 / (coldC + 273.15)))
  return [
    { atC: coldC, minutes: minutesCold },
    { atC: warmC, minutes: minutesCold * factor },
  ]
}

describe('pot life against published values', () => {
  // Source: UFGS-09971 3.7.1.3. A not-after stays at the sheet's figure in the cold, so that half of
  // the rule is read off a not-before.
  test('one figure halves 10 °C warmer and doubles 10 °C colder', () => {
    for (const { refMin, refC, C, min } of potlife.rule10C.checks) {
      const kind = C > refC ? 'notAfter' : 'notBefore'
      expect(minutesAt(kind, [{ atC: refC, minutes: refMin }], C)).toBeCloseTo(min, 9)
    }
  })

  test('a pot life is not stretched in the cold, nor a flash shortened in the heat', () => {
    for (const { refMin, refC, C } of potlife.rule10C.checks) {
      const kind = C > refC ? 'notBefore' : 'notAfter'
      expect(minutesAt(kind, [{ atC: refC, minutes: refMin }], C)).toBe(refMin)
    }
  })

  // Source: textbook answer pages on the activation energy of a rate that doubles; the errata that
  // the reference file lists are left out.
  test('figures made from a textbook’s activation energy double over the textbook’s ten kelvins', () => {
    const pairsK: [number, number][] = [
      [298.15, 308.15],
      [303, 313],
      [298, 308],
    ]
    for (const [i, [coldK, warmK]] of pairsK.entries()) {
      const { printed } = potlife.arrhenius.examples[i] as { printed: number }
      const points = pointsOf(printed, coldK - 273.15 - 8, warmK - 273.15 + 15, 240)
      const at = (kelvin: number) => minutesAt('notAfter', points, kelvin - 273.15)
      expect(Math.abs(at(coldK) / at(warmK) - 2), `${printed} kJ/mol`).toBeLessThan(0.001)
    }
  })

  // Source: Arrhenius' law worked at the activation energies that the reference file lists.
  test('between two figures, and past them towards caution, the time follows the Arrhenius law', () => {
    for (const { EaKJ, ratio20to30C } of potlife.arrhenius.q10from20C) {
      const between = pointsOf(EaKJ, 10, 40, 240)
      const at = (atC: number) => minutesAt('notAfter', between, atC)
      expect(at(20) / at(30), `${EaKJ} kJ/mol`).toBeCloseTo(ratio20to30C, 3)
      const colder = pointsOf(EaKJ, 5, 20, 240)
      const past = (atC: number) => minutesAt('notAfter', colder, atC)
      expect(past(20) / past(30), `${EaKJ} kJ/mol, past 20 °C`).toBeCloseTo(ratio20to30C, 3)
      const warmer = pointsOf(EaKJ, 30, 45, 240)
      const colderThan = (atC: number) => minutesAt('notBefore', warmer, atC)
      expect(colderThan(20) / colderThan(30), `${EaKJ} kJ/mol, below 30 °C`).toBeCloseTo(
        ratio20to30C,
        3,
      )
    }
  })

  test('a third figure on the same curve changes nothing between the others', () => {
    for (const { EaKJ, ratio20to30C } of potlife.arrhenius.q10from20C) {
      const [cold, warm] = pointsOf(EaKJ, 10, 40, 240)
      const middle = pointsOf(EaKJ, 10, 25, 240)[1]
      const points = [cold, warm, middle].filter((p) => p !== undefined)
      const ratio = minutesAt('notBefore', points, 20) / minutesAt('notBefore', points, 30)
      expect(ratio, `${EaKJ} kJ/mol`).toBeCloseTo(ratio20to30C, 3)
    }
  })
})
