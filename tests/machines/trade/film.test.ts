import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import reference from '../../reference/film.json'
import transfer from '../../reference/transfer.json'
import { answer, refusal } from './asking.ts'

const { ft2MilPerUsGal, micronPerMil, m2PerLPerFt2Gal } = reference.constants
const micron = (mil: number) => mil * micronPerMil

describe('film against published values', () => {
  test('UFC 3-190-06 §2.1.5: spread of 100 % and 50 % solids at 1, 2 and 4 mil (its erratum left out)', () => {
    const printed = reference.examples.filter((e) => e.ft2PerGal && e.dftMil && e.vsPct)
    expect(printed.length).toBe(7)
    for (const { vsPct, dftMil, ft2PerGal } of printed) {
      const asked = { dryUm: micron(dftMil as number), solids: (vsPct as number) / 100 }
      const ft2 = answer('film', asked).spreadM2PerL / m2PerLPerFt2Gal
      // The handbook rounds 1604 ft²·mil a gallon to 1600.
      expect(Math.abs(ft2 / (ft2PerGal as number) - 1)).toBeLessThan(0.003)
    }
  })

  test('a gallon at a mil covers 1604 square feet, by the gallon’s definition', () => {
    const { spreadM2PerL } = answer('film', { dryUm: micron(1), solids: 1 })
    expect(spreadM2PerL / m2PerLPerFt2Gal).toBeCloseTo(ft2MilPerUsGal, 1)
  })

  test('71 % solids at 125 µm cover 5.68 m² a liter (published worked example)', () => {
    const example = reference.examples.find((e) => e.vsPct === 71)
    const { spreadM2PerL } = answer('film', { dryUm: 125, solids: 0.71 })
    expect(spreadM2PerL).toBeCloseTo(example?.m2PerL as number, 2)
  })

  test('thinned material: wet and dry films of the worked and derived examples', () => {
    const thinned = reference.examples.filter((e) => e.thinnerPct !== undefined)
    expect(thinned.length).toBe(5)
    for (const { vsPct, thinnerPct, wftUm, dftUm, m2PerLUnthinnedBasis } of thinned) {
      const mix = { solids: (vsPct as number) / 100, thinnerPct }
      const fromWet = answer('film', { ...mix, wetUm: wftUm })
      const fromDry = answer('film', { ...mix, dryUm: dftUm })
      expect(fromWet.dryUm).toBeCloseTo(dftUm as number, 1)
      expect(fromDry.wetUm).toBeCloseTo(wftUm as number, 1)
      if (m2PerLUnthinnedBasis === undefined) continue
      const unthinned = fromDry.spreadM2PerL * (1 + (thinnerPct as number) / 100)
      expect(unthinned).toBeCloseTo(m2PerLUnthinnedBasis, 3)
    }
  })

  test('practical coverage is the theoretical less the loss: 100 less 30 % is 70 m² a liter', () => {
    const practice = reference.examples.find((e) => e.practical)
    const { volumeMl } = answer('quantity', {
      areaM2: practice?.practical,
      coats: 1,
      dryUmPerCoat: 10,
      solids: 1,
      transfer: 1 - (practice?.loss as number),
    })
    expect(volumeMl).toBeCloseTo(1000, 9)
  })

  test('transfer efficiency is solids on the object over solids used (South Coast AQMD; 40 CFR 60 EE table)', () => {
    for (const efficiency of Object.values(transfer.regulatoryTable.values)) {
      const asked = { areaM2: 2, coats: 3, dryUmPerCoat: 20, solids: 0.4, transfer: efficiency }
      const solidsUsedMl = answer('quantity', asked).volumeMl * 0.4
      expect((2 * 3 * 20) / solidsUsedMl).toBeCloseTo(efficiency, 12)
    }
  })
})

describe('how much to mix', () => {
  const job = { areaM2: 1.2, coats: 1, dryUmPerCoat: 73, solids: 0.45, transfer: 0.65 }

  test('1.2 m² at 73 µm dry, 45 % solids and 65 % transfer take about 300 mL', () => {
    expect(answer('quantity', job).volumeMl).toBeCloseTo(299.5, 1)
    expect(answer('quantity', { ...job, lossMl: 50 }).volumeMl).toBeCloseTo(349.5, 1)
  })

  test('more area, coats, film or loss never takes less; more solids or transfer never more', () => {
    const positive = (max: number) => fc.double({ min: 0.2, max, noNaN: true })
    const fraction = fc.double({ min: 0.01, max: 0.99, noNaN: true })
    const asked = fc.record({
      areaM2: positive(50),
      coats: positive(6),
      dryUmPerCoat: positive(300),
      solids: fraction,
      transfer: fraction,
      lossMl: positive(200),
    })
    const key = fc.constantFrom('areaM2', 'coats', 'dryUmPerCoat', 'solids', 'transfer', 'lossMl')
    const factor = fc.double({ min: 1, max: 1.01, noNaN: true })
    fc.assert(
      fc.property(asked, key, factor, (input, key, factor) => {
        const more = answer('quantity', { ...input, [key]: input[key] * factor }).volumeMl
        const less = answer('quantity', input).volumeMl
        const isDivisor = key === 'solids' || key === 'transfer'
        expect(isDivisor ? less - more : more - less).toBeGreaterThanOrEqual(-1e-9 * less)
      }),
    )
  })

  test('40 % written as 40, no area and an endless coat are refused by name', () => {
    expect(refusal('quantity', { ...job, solids: 40 })).toMatchObject({
      field: 'solids',
      message: "solids: 40 won't work. Use a number from 0.001 to 1 (0.55 is 55 %).",
    })
    expect(refusal('quantity', { ...job, areaM2: 0 }).field).toBe('areaM2')
    expect(refusal('quantity', { ...job, areaM2: 1e12 }).field).toBe('areaM2')
    expect(refusal('quantity', { ...job, coats: Number.POSITIVE_INFINITY }).field).toBe('coats')
    expect(refusal('quantity', { ...job, transfer: 0 }).field).toBe('transfer')
    expect(refusal('quantity', {}).field).toBe('areaM2')
  })
})

describe('a film', () => {
  test('wet to dry and back is the same film', () => {
    const um = fc.double({ min: 10, max: 500, noNaN: true })
    const mix = fc.record({
      solids: fc.double({ min: 0.05, max: 1, noNaN: true }),
      thinnerPct: fc.double({ min: 0, max: 100, noNaN: true }),
    })
    fc.assert(
      fc.property(um, mix, (wetUm, mix) => {
        const { dryUm } = answer('film', { ...mix, wetUm })
        expect(answer('film', { ...mix, dryUm }).wetUm / wetUm).toBeCloseTo(1, 9)
      }),
    )
  })

  test('needs exactly one of wet and dry', () => {
    expect(refusal('film', { solids: 0.5 })).toMatchObject({
      field: 'wetUm',
      message: 'wetUm is missing. Use either wetUm or dryUm, in µm.',
    })
    expect(refusal('film', { solids: 0.5, wetUm: 100, dryUm: 50 }).field).toBe('dryUm')
    expect(refusal('film', { solids: 0.5, wetUm: -3 }).field).toBe('wetUm')
  })
})
