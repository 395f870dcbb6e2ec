import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { calculate, calculatorNames, calculators } from '../../../machines/trade/registry.ts'
import { refusal } from './asking.ts'

/** True when everything in a result survives JSON: no NaN, no infinity, nothing undefined. */
function isPlain(value: unknown): boolean {
  if (typeof value === 'number') return Number.isFinite(value)
  if (value === null || typeof value === 'string' || typeof value === 'boolean') return true
  return typeof value === 'object' && Object.values(value).every(isPlain)
}

describe('the registry', () => {
  test('each calculation stands under its own name and says formula, units, source and caution', () => {
    for (const name of calculatorNames) {
      const { name: own, about } = calculators[name]
      expect(own).toBe(name)
      for (const words of Object.values(about)) expect(words.length).toBeGreaterThan(10)
      expect(Object.keys(about)).toEqual(['formula', 'units', 'source', 'caution'])
    }
  })

  test.each(['', 'Pour', 'constructor', '__proto__', 'toString'])(
    '%j is no calculation: the names are given',
    (name) => {
      const error = refusal(name, {})
      expect(error.field).toBe('name')
      for (const known of calculatorNames) expect(error.message).toContain(known)
    },
  )

  test('any JSON gets an answer of plain numbers or a field with a sentence, never an exception', () => {
    fc.assert(
      fc.property(fc.constantFrom(...calculatorNames), fc.jsonValue(), (name, input) => {
        const checked = calculate(name, input)
        if (checked.ok) expect(isPlain(checked.value)).toBe(true)
        else expect(checked.error.message).toContain('; accepted is ')
      }),
    )
  })

  test('JSON nested a hundred thousand deep is refused like any other', () => {
    const deep: unknown = JSON.parse(`${'['.repeat(100_000)}${']'.repeat(100_000)}`)
    for (const name of calculatorNames) expect(calculate(name, deep).ok).toBe(false)
  })
})
