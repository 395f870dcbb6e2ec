import fc from 'fast-check'
import { expect, test } from 'vitest'
import { asJson } from '../../../machines/asJson.ts'
import { patience, tries } from '../../support/randomRuns.ts'

/** Whatever a fact may be made of, and what it never should be. */
const anything = fc.anything({
  key: fc.oneof(fc.string(), fc.constantFrom('__proto__', 'toJSON', '10', '9')),
  withDate: true,
  withSparseArray: true,
  withNullPrototype: true,
  values: [
    ...[fc.boolean(), fc.integer(), fc.double(), fc.string({ unit: 'binary' })],
    ...[fc.constant(null), fc.constant(undefined), fc.constant(-0), fc.constant(Symbol('s'))],
  ],
})

test('is what JSON keeps of a value, to the byte', { timeout: patience }, () => {
  fc.assert(
    fc.property(anything, (value) => {
      const text = JSON.stringify({ value })
      const made = asJson({ value })
      expect(JSON.stringify(made)).toBe(text)
      expect(made).toStrictEqual(JSON.parse(text))
    }),
    tries(3_000),
  )
})
