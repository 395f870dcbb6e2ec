import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import potlife from '../../reference/potlife.json'
import { answer, refusal } from './asking.ts'

const hour20 = [{ atC: 20, minutes: 60 }]

/** Points whose curve has an activation energy, as the reference gives it. */
function arrheniusPoints(eaKJ: number, fromC: number, toC: number, minutes: number) {
  const x = (c: number) => 1 / (c + 273.15)
  const factor = Math.exp(((eaKJ * 1000) / potlife.arrhenius.R) * (x(toC) - x(fromC)))
  return [
    { atC: fromC, minutes },
    { atC: toC, minutes: minutes * factor },
  ]
}

describe('published pot life', () => {
  test('a single figure halves 10 °C warmer and doubles 10 °C colder (UFGS-09971 3.7.1.3)', () => {
    for (const { refMin, refC, C, min } of potlife.rule10C.checks) {
      const points = [{ atC: refC, minutes: refMin }]
      const kind = C > refC ? 'notAfter' : 'notBefore'
      expect(answer('interval', { kind, points, atC: C }).minutes).toBeCloseTo(min, 9)
    }
    const points = [{ atC: 21, minutes: 120 }]
    expect(answer('interval', { kind: 'notAfter', points, atC: 26 }).minutes).toBeCloseTo(84.85, 2)
  })

  test('two figures a doubling apart imply the textbooks’ activation energy (answer pages, errata left out)', () => {
    const pairsK: [number, number][] = [
      [298.15, 308.15],
      [303, 313],
      [298, 308],
    ]
    for (const [i, [coldK, warmK]] of pairsK.entries()) {
      const points = [
        { atC: coldK - 273.15, minutes: 60 },
        { atC: warmK - 273.15, minutes: 30 },
      ]
      const at = (kelvin: number) =>
        answer('interval', { kind: 'notAfter', points, atC: kelvin - 273.15 }).minutes
      const [a, b] = [coldK + 3, warmK - 3]
      const eaKJ = (potlife.arrhenius.R * Math.log(at(a) / at(b))) / (1 / a - 1 / b) / 1000
      const printed = potlife.arrhenius.examples[i]?.printed as number
      expect(Math.abs(eaKJ - printed)).toBeLessThan(0.02)
    }
  })

  test('between two figures the time follows the Arrhenius law at every activation energy listed', () => {
    for (const { EaKJ, ratio20to30C } of potlife.arrhenius.q10from20C) {
      const points = arrheniusPoints(EaKJ, 10, 40, 240)
      const at = (atC: number) => answer('interval', { kind: 'notAfter', points, atC }).minutes
      expect(at(20) / at(30)).toBeCloseTo(ratio20to30C, 3)
    }
  })
})

describe('an interval at a temperature', () => {
  test('a flash never gets shorter in the heat nor a pot life longer in the cold', () => {
    const at = (kind: string, atC: number) =>
      answer('interval', { kind, points: hour20, atC }).minutes
    expect(at('notBefore', 35)).toBe(60)
    expect(at('notAfter', 5)).toBe(60)
  })

  test('no wait stays no wait', () => {
    const points = [{ atC: 20, minutes: 0 }]
    expect(answer('interval', { kind: 'notBefore', points, atC: 5 })).toEqual({ minutes: 0 })
  })

  test('a temperature of 400, an unknown kind and points that contradict each other name their field', () => {
    const given = { kind: 'notAfter', points: hour20, atC: 20 }
    expect(refusal('interval', { ...given, atC: 400 })).toMatchObject({
      field: 'atC',
      message: "atC: 400 won't work. Use a number from -30 to 200 °C.",
    })
    expect(refusal('interval', { ...given, kind: 'whenever' }).field).toBe('kind')
    expect(refusal('interval', { ...given, points: [] }).field).toBe('points')
    expect(refusal('interval', { ...given, points: [...hour20, ...hour20] }).field).toBe('points')
    const negative = [{ atC: 20, minutes: -1 }]
    expect(refusal('interval', { ...given, points: negative }).field).toBe('points.0.minutes')
    const cliff = [
      { atC: 20, minutes: 500_000 },
      { atC: 20.001, minutes: 1 },
    ]
    const steep = { kind: 'notBefore', points: cliff, atC: -30 }
    expect(refusal('interval', steep).field).toBe('points')
  })
})

describe('the clock', () => {
  const ends = (input: object) =>
    answer('clock', { kind: 'notAfter', points: hour20, ...input }).endsAtMin

  test('an hour of pot life at 20 °C ends at minute 40 when the shop warms to 30 °C at minute 20', () => {
    const readings = [
      { atMin: 0, airC: 20 },
      { atMin: 20, airC: 30 },
    ]
    expect(ends({ readings })).toBe(40)
    expect(ends({ readings: readings.toReversed() })).toBe(40)
  })

  test('without a reading the sheet’s own figure counts', () => {
    expect(ends({ readings: [] })).toBe(60)
  })

  test('the first reading holds back to the start and the last one never goes stale', () => {
    expect(ends({ readings: [{ atMin: 25, airC: 30 }] })).toBe(30)
    // Blind clocks would fall back to the first figure, 60 min, after half an hour.
    const points = [...hour20, { atC: 10, minutes: 120 }]
    expect(ends({ points, readings: [{ atMin: 0, airC: 10 }] })).toBe(120)
  })

  test('a reading from before the start counts until the next', () => {
    const readings = [
      { atMin: -30, airC: 30 },
      { atMin: 15, airC: 20 },
    ]
    expect(ends({ readings })).toBe(45)
  })

  test('a waterborne flash waits longer in damp air, and never ends at 95 % humidity', () => {
    const flash = { kind: 'notBefore', points: [{ atC: 20, minutes: 10 }], waterborne: {} }
    const at = (rh: number) => ends({ ...flash, readings: [{ atMin: 0, airC: 20, rh }] })
    expect(at(0.5)).toBe(10)
    expect(at(0.75)).toBe(20)
    expect(at(0.3)).toBe(10)
    expect(at(0.95)).toBeNull()
  })

  test('a waterborne flash that stopped in damp air continues when the air dries', () => {
    const flash = { kind: 'notBefore', points: [{ atC: 20, minutes: 10 }], waterborne: {} }
    const readings = [
      { atMin: 0, airC: 20, rh: 0.5 },
      { atMin: 4, airC: 20, rh: 0.97 },
      { atMin: 30, airC: 20, rh: 0.5 },
    ]
    expect(ends({ ...flash, readings })).toBe(36)
  })

  test('the sheet’s own reference humidity replaces the 50 % taken for it', () => {
    const flash = { kind: 'notBefore', points: [{ atC: 20, minutes: 10 }] }
    const readings = [{ atMin: 0, airC: 20, rh: 0.75 }]
    expect(ends({ ...flash, readings, waterborne: { rhRef: 0.75 } })).toBe(10)
  })

  test('one more degree never lengthens a pot life nor a flash', () => {
    const air = fc.double({ min: 5, max: 39, noNaN: true })
    const kinds = fc.constantFrom('notBefore', 'notAfter')
    fc.assert(
      fc.property(kinds, air, fc.double({ min: 0, max: 90, noNaN: true }), (kind, airC, atMin) => {
        const at = (extra: number) =>
          ends({
            kind,
            readings: [
              { atMin: 0, airC: airC + extra },
              { atMin, airC: 20 + extra },
            ],
          }) as number
        expect(at(1)).toBeLessThanOrEqual(at(0))
      }),
    )
  })

  test('refuses 55 for a humidity, a pot life that dries, and readings that are no list', () => {
    const given = { kind: 'notAfter', points: hour20, readings: [] }
    const damp = [{ atMin: 0, airC: 20, rh: 55 }]
    expect(refusal('clock', { ...given, readings: damp })).toMatchObject({
      field: 'readings.0.rh',
      message: "readings.0.rh: 55 won't work. Use a number from 0 to 1 (0.55 is 55 %).",
    })
    expect(refusal('clock', { ...given, waterborne: {} }).field).toBe('waterborne')
    expect(refusal('clock', { ...given, readings: {} }).field).toBe('readings')
    const blank = [{ atMin: 0 }]
    expect(refusal('clock', { ...given, readings: blank }).message).toMatch(
      /^readings\.0\.\w+ is missing\. Use a number from /,
    )
  })
})
