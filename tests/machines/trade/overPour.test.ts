import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { answer, refusal } from './asking.ts'

const given = { ratio: '4:1', by: 'volume', totalMl: 500, densities: [1, 1] }

describe('too much of something went in (common practice, no source)', () => {
  test('120 g of activator where 100 belong asks for 480 g of clear in all', () => {
    const mended = answer('overPour', { ...given, pouredG: [400, 120], cupMl: 600 })
    expect(mended.parts).toEqual([
      { targetG: 480, addG: 80 },
      { targetG: 120, addG: 0 },
    ])
    expect([mended.totalMl, mended.totalG, mended.fits]).toEqual([600, 600, true])
    expect(answer('overPour', { ...given, pouredG: [400, 120], cupMl: 599 }).fits).toBe(false)
  })

  test('the part that ran over gets nothing more, not even the dust of a division', () => {
    // 115/100 × 100 is a hair below 115 in binary fractions.
    const mended = answer('overPour', { ...given, pouredG: [400, 115] })
    expect(mended.parts[1]).toEqual({ targetG: 115, addG: 0 })
  })

  test('where nothing ran over the total stays what was asked, and the rest is still to pour', () => {
    const mended = answer('overPour', { ...given, pouredG: [390] })
    expect(mended.parts).toEqual([
      { targetG: 400, addG: 10 },
      { targetG: 100, addG: 100 },
    ])
    expect(mended.fits).toBeNull()
  })

  test('by mass the volumes follow the densities', () => {
    const byMass = { ...given, by: 'mass', densities: [2, 1], totalMl: 300 }
    // 4 g : 1 g take 3 mL together: 400 g and 100 g are 300 mL.
    expect(answer('overPour', { ...byMass, pouredG: [400, 150] }).totalMl).toBeCloseTo(450, 9)
  })
})

describe('whatever went in', () => {
  const part = fc.integer({ min: 1, max: 40 }).map((n) => n / 4)
  const density = fc.double({ min: 0.7, max: 3, noNaN: true })
  const pouredG = fc.double({ min: 0, max: 3000, noNaN: true })
  const component = fc.record({ part, density, pouredG })
  const asked = fc
    .record({
      components: fc.array(component, { minLength: 1, maxLength: 5 }),
      totalMl: fc.double({ min: 10, max: 2000, noNaN: true }),
      by: fc.constantFrom('volume', 'mass'),
    })
    .map(({ components, ...rest }) => ({
      ratio: components.map((c) => c.part).join(':'),
      densities: components.map((c) => c.density),
      pouredG: components.map((c) => c.pouredG),
      ...rest,
    }))

  test('nothing is taken out, and the mended cup has the ratio', () => {
    fc.assert(
      fc.property(asked, (input) => {
        const { pouredG, ...pour } = input
        const mended = answer('overPour', input)
        const plain = answer('pour', { ...pour, totalMl: Math.min(100_000, mended.totalMl) })
        const scale = mended.totalMl / plain.totalMl
        for (const [i, { targetG, addG }] of mended.parts.entries()) {
          expect(addG).toBeGreaterThanOrEqual(0)
          expect((pouredG[i] as number) + addG).toBeCloseTo(targetG, 6)
          expect(targetG / ((plain.parts[i]?.g as number) * scale)).toBeCloseTo(1, 9)
        }
      }),
    )
  })

  test('the total is the least: it is the one asked for, or some part needs no more', () => {
    fc.assert(
      fc.property(asked, (input) => {
        const mended = answer('overPour', input)
        const isAsked = Math.abs(mended.totalMl / input.totalMl - 1) < 1e-12
        const least = mended.parts.some((p) => p.addG <= p.targetG * 1e-12)
        expect(isAsked || least).toBe(true)
        expect(mended.totalMl).toBeGreaterThanOrEqual(input.totalMl)
      }),
    )
  })
})

describe('an over-pour that cannot be', () => {
  test('grams without densities name the densities, too many weights the weights', () => {
    const { densities: _, ...without } = given
    expect(refusal('overPour', { ...without, pouredG: [1] }).field).toBe('densities')
    expect(refusal('overPour', { ...given, densities: [1], pouredG: [1] }).field).toBe('densities')
    expect(refusal('overPour', { ...given, pouredG: [1, 2, 3] }).field).toBe('pouredG')
    expect(refusal('overPour', { ...given, pouredG: [] }).field).toBe('pouredG')
    expect(refusal('overPour', { ...given, pouredG: [1, -2] }).field).toBe('pouredG.1')
    expect(refusal('overPour', { ...given, pouredG: [1], cupMl: 0 }).field).toBe('cupMl')
  })

  test('something poured that the ratio has none of cannot be mended', () => {
    const none = { ...given, ratio: '4:1:0', densities: [1, 1, 1], pouredG: [400, 100, 5] }
    expect(refusal('overPour', none)).toMatchObject({
      field: 'pouredG.2',
      message: "pouredG.2: 5 won't work. Use 0: the ratio has none of it.",
    })
  })
})
