import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import reference from '../../reference/ciede2000.json'
import { answer, refusal } from './asking.ts'

const deltaE00 = (panel: number[], card: number[]) => answer('colour', { panel, card }).deltaE00

describe('color difference', () => {
  test('CIEDE2000 to four decimals in either order (Sharma, Wu and Dalal 2005, Table 1)', () => {
    expect(reference.pairs.length).toBeGreaterThan(20)
    for (const { pair, lab1, lab2, dE00 } of reference.pairs) {
      expect(Math.abs(deltaE00(lab1, lab2) - dE00), `pair ${pair}`).toBeLessThan(0.00005)
      expect(Math.abs(deltaE00(lab2, lab1) - dE00), `pair ${pair}`).toBeLessThan(0.00005)
    }
  })

  test('a panel does not differ from itself', () => {
    const axis = fc.double({ min: -128, max: 128, noNaN: true })
    const lab = fc.tuple(fc.double({ min: 0, max: 100, noNaN: true }), axis, axis)
    fc.assert(
      fc.property(lab, (colour) => {
        expect(deltaE00(colour, colour)).toBe(0)
      }),
    )
  })

  test('L*a*b* out of range, or not three numbers, is refused by name', () => {
    const card = [50, 0, 0]
    expect(refusal('colour', { panel: [101, 0, 0], card })).toMatchObject({
      field: 'panel.0',
      message: "panel.0: 101 won't work. Use a number from 0 to 100 (L*).",
    })
    expect(refusal('colour', { panel: [50, -200, 0], card }).field).toBe('panel.1')
    expect(refusal('colour', { panel: [50, 0], card }).field).toContain('panel')
    expect(refusal('colour', { panel: [50, 0, 0, 1], card }).field).toContain('panel')
    expect(refusal('colour', { panel: 'red', card }).field).toBe('panel')
    expect(refusal('colour', { card }).message).toContain('three numbers')
  })
})
