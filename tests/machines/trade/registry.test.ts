import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { calculate, calculatorNames, calculators } from '../../../machines/trade/registry.ts'
import { saidWrong } from '../../support/said.ts'
import { soundInputs } from '../../support/soundInputs.ts'
import { refusal } from './asking.ts'

/** True when everything in a result survives JSON: no NaN, no infinity, nothing undefined. */
function isPlain(value: unknown): boolean {
  if (typeof value === 'number') return Number.isFinite(value)
  if (value === null || typeof value === 'string' || typeof value === 'boolean') return true
  return typeof value === 'object' && Object.values(value).every(isPlain)
}

type Leaf = readonly (string | number)[]

/** The paths of the numbers of an input. */
function numbersIn(value: unknown, path: Leaf = []): Leaf[] {
  if (typeof value === 'number') return [path]
  if (typeof value !== 'object' || value === null) return []
  const isList = Array.isArray(value)
  return Object.entries(value).flatMap(([key, inner]) =>
    numbersIn(inner, [...path, isList ? Number(key) : key]),
  )
}

/** A copy with one value replaced. */
function withValue(value: unknown, [key, ...rest]: Leaf, put: unknown): unknown {
  if (key === undefined) return put
  const copy = structuredClone(value) as Record<string | number, unknown>
  copy[key] = withValue(copy[key], rest, put)
  return copy
}

const optional = new Set(
  'waterborne densities stepG percentOf cupMl lossMl wetUm dryUm thinnerPct surfaceC'.split(' '),
)

describe('bad input', () => {
  test('a sound input is answered by each of the fourteen', () => {
    expect(calculatorNames.length).toBe(14)
    for (const name of calculatorNames)
      expect(calculate(name, soundInputs[name]), name).toHaveProperty('value')
  })

  test('NaN, infinite, huge, empty and wordy values name their field, what was given and what is accepted', () => {
    const never = [
      Number.NaN,
      Number.POSITIVE_INFINITY,
      Number.NEGATIVE_INFINITY,
      1e300,
      '',
      'x',
      [],
      {},
      null,
      true,
    ]
    for (const name of calculatorNames) {
      for (const path of numbersIn(soundInputs[name])) {
        for (const bad of never) {
          const error = refusal(name, withValue(soundInputs[name], path, bad))
          expect(error.field, `${name} ${String(bad)}`).toBe(path.join('.'))
          expect(error.message).toMatch(/(: .+ won't work|is missing)\. Use .+\.$/s)
        }
      }
    }
  })

  test('zero, negative and all but nothing are answered in plain numbers or refused with a field', () => {
    for (const name of calculatorNames) {
      for (const path of numbersIn(soundInputs[name])) {
        for (const odd of [0, -0, -1, Number.MIN_VALUE, 1e-6, 55]) {
          const checked = calculate(name, withValue(soundInputs[name], path, odd))
          if (checked.ok) expect(isPlain(checked.value), `${name} ${path} ${odd}`).toBe(true)
          else expect(checked.error.field).not.toBe('')
        }
      }
    }
  })

  test('a field left out is named when it is needed', () => {
    for (const name of calculatorNames) {
      for (const key of Object.keys(soundInputs[name])) {
        const { [key]: _, ...without } = soundInputs[name]
        if (optional.has(key)) continue
        expect(refusal(name, without).field, name).toBe(key)
        expect(refusal(name, without).message).toContain(' is missing. Use ')
      }
    }
  })

  test('any two numbers at odds are answered in plain numbers or refused with a field', () => {
    const odd = fc.oneof(
      fc.double({ min: -50, max: 400, noNaN: true }),
      fc.constantFrom(0.001, 0.1, 1, 60, 120, 1000, 100_000, 527_040),
    )
    const name = fc.constantFrom(...calculatorNames)
    fc.assert(
      fc.property(name, fc.nat(), fc.nat(), odd, odd, (name, i, j, first, second) => {
        const leaves = numbersIn(soundInputs[name])
        const at = (n: number) => leaves[n % leaves.length] as Leaf
        const input = withValue(withValue(soundInputs[name], at(i), first), at(j), second)
        const checked = calculate(name, input)
        if (checked.ok) expect(isPlain(checked.value)).toBe(true)
        else expect(checked.error.field).not.toBe('')
      }),
      { numRuns: 2000 },
    )
  })
})

describe('the registry', () => {
  test('each calculation is registered under its own name and gives formula, units, source and caution', () => {
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
        else expect(saidWrong(checked.error).message).toContain(' Use ')
      }),
    )
  })

  test('JSON nested a hundred thousand deep is refused like any other', () => {
    const deep: unknown = JSON.parse(`${'['.repeat(100_000)}${']'.repeat(100_000)}`)
    for (const name of calculatorNames) expect(calculate(name, deep).ok).toBe(false)
  })
})
