import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { pourTargets, ratioErrorPct, runningReadings } from '../../../machines/trade/pour.ts'
import { answer, refusal } from './asking.ts'

const mls = (input: object) =>
  answer('pour', { by: 'volume', ...input }).parts.map((part) => part.ml)

describe('a pour', () => {
  test('4:1 for 500 mL is 400 and 100 mL (common practice, no source)', () => {
    expect(mls({ ratio: '4:1', totalMl: 500 })).toEqual([400, 100])
  })

  test('4:1+10% for 550 mL is 400, 100 and 50 mL (common practice, no source)', () => {
    expect(mls({ ratio: '4:1+10%', totalMl: 550 })).toEqual([400, 100, 50])
    expect(mls({ ratio: '4:1+10%', totalMl: 540, percentOf: 'base' })).toEqual([400, 100, 40])
  })

  test('without densities it knows no grams', () => {
    const poured = answer('pour', { ratio: '2:1', by: 'volume', totalMl: 300 })
    expect(poured.parts[1]).toEqual({ ml: 100, g: null, scaleG: null })
    expect([poured.totalG, poured.errorPct]).toEqual([null, null])
  })

  test('with densities the scale runs on: each reading is all that is in the cup', () => {
    const poured = answer('pour', {
      ratio: '2:1:1',
      by: 'volume',
      totalMl: 400,
      densities: [1.25, 1, 0.9],
    })
    expect(poured.parts.map((part) => part.g)).toEqual([250, 100, 90])
    expect(poured.parts.map((part) => part.scaleG)).toEqual([250, 350, 440])
    expect([poured.totalG, poured.errorPct]).toEqual([440, 0])
  })

  test('the scale’s step rounds the running reading, and its error is given', () => {
    const poured = answer('pour', {
      ratio: '10:1',
      by: 'volume',
      totalMl: 11,
      densities: [1.04, 0.98],
      stepG: 1,
    })
    // 10.4 g then 11.38 g: the scale shows 10 and 11, so 10 and 1 went in.
    expect(poured.parts.map((part) => part.scaleG)).toEqual([10, 11])
    expect(poured.errorPct).toBeCloseTo(100 * (1 / 0.98 / (10 / 10.4) - 1), 9)
  })

  test('parts by mass divide the grams, and the volumes still fill the cup', () => {
    const densities = [1.6, 1, 0.8]
    const poured = answer('pour', { ratio: '8:1:1', by: 'mass', totalMl: 580, densities })
    const grams = poured.parts.map((part) => part.g as number)
    expect((grams[0] as number) / (grams[1] as number)).toBeCloseTo(8, 12)
    expect(poured.parts.reduce((ml, part) => ml + part.ml, 0)).toBeCloseTo(580, 9)
  })

  test('a part of nothing takes nothing and spoils no error', () => {
    const poured = answer('pour', {
      ratio: '4:1:0',
      by: 'volume',
      totalMl: 500,
      densities: [1, 1, 1],
    })
    expect(poured.parts[2]).toEqual({ ml: 0, g: 0, scaleG: 500 })
    expect(poured.errorPct).toBe(0)
  })

  test('the bench can ask for targets where one density is not on the sheet', () => {
    expect(pourTargets([2, 1], 'volume', 300, [1.5, null])).toEqual([
      { ml: 200, g: 300 },
      { ml: 100, g: null },
    ])
    expect(() => pourTargets([2, 1], 'mass', 300, [1.5])).toThrow(RangeError)
  })
})

describe('whatever is poured', () => {
  const part = fc.integer({ min: 1, max: 400 }).map((n) => n / 4)
  const component = fc.record({ part, density: fc.double({ min: 0.7, max: 3, noNaN: true }) })
  const components = fc.array(component, { minLength: 1, maxLength: 6 })
  const totalMl = fc.double({ min: 10, max: 5000, noNaN: true })
  const by = fc.constantFrom('volume' as const, 'mass' as const)
  const input = fc.record({ components, totalMl, by }).map(({ components, ...rest }) => ({
    ratio: components.map((c) => c.part).join(':'),
    densities: components.map((c) => c.density),
    ...rest,
  }))

  test('weighing it again returns the ratio', () => {
    fc.assert(
      fc.property(input, (asked) => {
        const readings = answer('pour', asked).parts.map((p) => p.scaleG as number)
        const grams = readings.map((r, i) => r - (readings[i - 1] ?? 0))
        const weighed = grams.map((g, i) =>
          asked.by === 'mass' ? g : g / (asked.densities[i] as number),
        )
        const ratio = asked.ratio.split(':').map(Number)
        for (const [i, w] of weighed.entries()) {
          const shares = (w / (weighed[0] as number)) * (ratio[0] as number)
          expect(shares / (ratio[i] as number)).toBeCloseTo(1, 6)
        }
      }),
    )
  })

  test('volume and mass agree through density, and volumes fill the cup', () => {
    fc.assert(
      fc.property(input, (asked) => {
        const { parts, totalG } = answer('pour', asked)
        for (const [i, p] of parts.entries()) {
          expect((p.ml * (asked.densities[i] as number)) / (p.g as number)).toBeCloseTo(1, 9)
        }
        expect(parts.reduce((ml, p) => ml + p.ml, 0) / asked.totalMl).toBeCloseTo(1, 9)
        expect(parts.reduce((g, p) => g + (p.g as number), 0) / (totalG as number)).toBeCloseTo(
          1,
          9,
        )
      }),
    )
  })

  test('no reading of the scale is further than half a step from what it should be', () => {
    fc.assert(
      fc.property(input, fc.constantFrom(0.01, 0.1, 1), (asked, stepG) => {
        const { parts } = answer('pour', asked)
        const exact = parts.map((p) => p.scaleG as number)
        const shown = runningReadings(
          parts.map((p) => p.g as number),
          stepG,
        )
        for (const [i, reading] of shown.entries()) {
          expect(Math.abs(reading - (exact[i] as number))).toBeLessThanOrEqual(stepG / 2 + 1e-9)
        }
      }),
    )
  })

  test('more of everything in proportion is not an error of the ratio', () => {
    fc.assert(
      fc.property(input, fc.double({ min: 0.5, max: 2, noNaN: true }), (asked, factor) => {
        const grams = answer('pour', asked).parts.map((p) => p.g as number)
        expect(
          ratioErrorPct(
            grams,
            grams.map((g) => g * factor),
          ),
        ).toBeCloseTo(0, 9)
      }),
    )
  })
})

describe('a pour that cannot be', () => {
  const given = { ratio: '2:1', by: 'volume', totalMl: 300 }
  const refused = (change: object) => refusal('pour', { ...given, ...change })

  test.each(['4:x', '0:0', '', '2:NaN'])('the ratio %j names its field and form', (ratio) => {
    expect(refused({ ratio })).toMatchObject({
      field: 'ratio',
      message: `ratio: ${JSON.stringify(ratio)} won't work. Use 2:1, 2:1:0.5 or 4:1+10%, with a first part above 0.`,
    })
  })

  test('by mass without densities, or with too few, names the densities', () => {
    expect(refused({ by: 'mass' })).toEqual({
      code: 'densities',
      field: 'densities',
      params: { count: 2 },
      message: 'densities is missing. Use 2 densities in g/mL, one for each part of the ratio.',
    })
    expect(refused({ densities: [1] }).field).toBe('densities')
    expect(refused({ by: 'mass', densities: [1, 1, 1] }).field).toBe('densities')
    expect(refused({ densities: [1, 1000] }).field).toBe('densities.1')
  })

  test.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY, 1e9, '300', null])(
    'a total of %j names the total',
    (totalMl) => {
      expect(refused({ totalMl })).toMatchObject({
        field: 'totalMl',
        message: expect.stringContaining('a number from 0.1 to 100000 mL'),
      })
    },
  )

  test('a step the base does not show on names the step', () => {
    const coarse = refused({ totalMl: 3, densities: [1, 1], stepG: 5 })
    expect(coarse.field).toBe('stepG')
    expect(coarse.message).toContain('up to 4 g')
  })

  test('a field that does not belong is named', () => {
    expect(refused({ litres: 2 }).field).toBe('litres')
  })
})
