import { describe, expect, test } from 'vitest'
import { daysOf, isFlooded, nameOfSource, rateOf } from '../../kiosk/setup/bellView.ts'
import { CLEAR_CUP, CLEAR_ONLY, JOB, vanWith } from '../support/given.ts'

/** What the figures of the bells mean. */

describe('the rate of calls', () => {
  test('is acceptable up to about one in ten minutes, manageable up to two', () => {
    const rates = [0, 0.96, 1.04, 1.06, 2.04, 2.06, 11].map((perPeriod) => rateOf({ perPeriod }))
    expect(rates).toEqual([
      ...['acceptable', 'acceptable', 'acceptable'],
      ...['manageable', 'manageable', 'tooMany', 'tooMany'],
    ])
  })

  test('is flooded from one in a hundred periods on', () => {
    expect([0, 0.0099, 0.01].map((floodShare) => isFlooded({ floodShare }))).toEqual([
      ...[false, false, true],
    ])
  })
})

test('the periods are a day, a week and thirty days; whatever else is asked for is thirty days', () => {
  expect(['1', '7', '30', undefined, '2', 'x'].map(daysOf)).toEqual([1, 7, 30, 30, 30, 30])
})

test('a source has the name that the shop gave it, and its id once it was evicted', () => {
  const { state } = vanWith(CLEAR_ONLY)
  expect(nameOfSource(state, { kind: 'job', id: JOB })).toMatch(/van/i)
  expect(nameOfSource(state, { kind: 'job', id: 'ZZZZ9999' })).toBe('ZZZZ9999')
  expect(nameOfSource(state, { kind: 'gun', id: 'gun-9' })).toBe('gun-9')
  expect(nameOfSource(state, { kind: 'cup', id: CLEAR_CUP })).toBe(CLEAR_CUP)
})
