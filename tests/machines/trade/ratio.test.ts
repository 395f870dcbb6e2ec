import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { parseRatio, ratioParts } from '../../../machines/trade/ratio.ts'

const parts = (text: string, of?: 'sum' | 'base') => {
  const ratio = parseRatio(text)
  return ratio && ratioParts(ratio, of)
}

describe('a mixing ratio (common practice, no source)', () => {
  test.each([
    ['2:1', [2, 1]],
    ['2:1:0.5', [2, 1, 0.5]],
    ['2 : 1 : .5', [2, 1, 0.5]],
    ['1', [1]],
    ['4:1:0', [4, 1, 0]],
    ['100:50:3:2:1', [100, 50, 3, 2, 1]],
  ])('%s is read as its parts', (text, expected) => {
    expect(parts(text)).toEqual(expected)
  })

  test('a percentage is of everything before it, of the base only when told', () => {
    expect(parts('4:1+10%')).toEqual([4, 1, 0.5])
    expect(parts('4:1+10%', 'base')).toEqual([4, 1, 0.4])
    expect(parts('2:1 + 10 % + 10 %')?.[3]).toBeCloseTo(0.33, 12)
    expect(parts('2:1+10%+10%', 'base')?.[3]).toBeCloseTo(0.2, 12)
  })

  test.each([
    '',
    ' ',
    '4:x',
    '4:1:',
    ':1',
    '4;1',
    '-4:1',
    '4:-1',
    '0:0',
    '0:1',
    '1e3:1',
    '4:1+10',
    'NaN:1',
    'Infinity:1',
    '4,5:1',
    '10%',
    '9999999:1',
  ])('%j is no ratio', (text) => {
    expect(parseRatio(text)).toBeNull()
  })

  test('whatever parts are written are read back', () => {
    const part = fc.integer({ min: 0, max: 99_999_999 }).map((n) => n / 100)
    const written = fc.array(part, { minLength: 1, maxLength: 12 }).filter((p) => p[0] !== 0)
    fc.assert(
      fc.property(written, (p) => {
        expect(parts(p.join(':'))).toEqual(p)
      }),
    )
  })

  test('no text throws', () => {
    fc.assert(fc.property(fc.string(), (text) => void parseRatio(text)))
  })
})
