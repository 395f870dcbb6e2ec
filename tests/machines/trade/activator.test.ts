import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { answer, refusal } from './asking.ts'

const options = [
  { name: 'fast', fromC: 10, toC: 20 },
  { name: 'medium', fromC: 18, toC: 25 },
  { name: 'slow', fromC: 24, toC: 32 },
]
const pick = (nowC: number, warmestC: number) =>
  answer('activator', { options, nowC, warmestC }).name

describe('which activator (common practice, no source)', () => {
  test('slow on a warm day, though the morning is cool', () => {
    expect(pick(22, 30)).toBe('slow')
    expect(answer('activator', { options, nowC: 22, warmestC: 30 }).why).toContain('22 °C of now')
  })

  test('fast on a cool day, medium between', () => {
    expect(pick(15, 16)).toBe('fast')
    expect(pick(21, 22)).toBe('medium')
  })

  test('where two are made for the warmest hour, the one that suits now; where both do, the slower', () => {
    expect(pick(20, 24.5)).toBe('medium')
    expect(pick(24, 25)).toBe('slow')
  })

  test('the day’s warmest is not below what it is now', () => {
    expect(pick(28, 20)).toBe('slow')
  })

  test('beyond every range nothing is proposed, and the sheet is named', () => {
    const hot = answer('activator', { options, nowC: 30, warmestC: 38 })
    expect(hot.name).toBeNull()
    expect(hot.why).toContain('38 °C')
    expect(hot.why).toContain('sheet')
  })

  test('whatever is proposed is made for the warmest hour', () => {
    const tempC = fc.integer({ min: -10, max: 45 })
    fc.assert(
      fc.property(tempC, tempC, (nowC, warmestC) => {
        const name = pick(nowC, warmestC)
        const warmest = Math.max(nowC, warmestC)
        const made = options.filter((o) => o.fromC <= warmest && warmest <= o.toC)
        if (name === null) expect(made).toEqual([])
        else expect(made.map((o) => o.name)).toContain(name)
      }),
    )
  })

  test('a range upside down, no options and 400 °C are refused by name', () => {
    const upside = [{ name: 'odd', fromC: 20, toC: 10 }]
    const given = { options, nowC: 20, warmestC: 25 }
    expect(refusal('activator', { ...given, options: upside }).field).toBe('options.0.toC')
    expect(refusal('activator', { ...given, options: [] }).field).toBe('options')
    expect(refusal('activator', { ...given, nowC: 400 }).field).toBe('nowC')
  })
})
