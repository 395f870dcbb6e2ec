import { describe, expect, test } from 'vitest'
import type { Draft } from '../../../machines/envelope.ts'
import { causesOf } from '../../../machines/trace/causes.ts'
import { deviationsIn } from '../../../machines/trace/deviations.ts'
import { ownPriors, priorsOf, REVIEWS_LEAST, reviewsIn } from '../../../machines/trace/reviews.ts'

/** What people found of causes, and when a shop's own figures may stand in place of the usual ones. */

let count = 0
function entry(type: string, data: object, more: Partial<Draft> = {}): Draft {
  count += 1
  return {
    ...{ shop: 'SHAPSHAP', id: `v-${count}.0`, type, version: 1, at: count, enteredAt: 0 },
    ...{ device: null, by: null, command: `v-${count}`, seq: count, data: data as Draft['data'] },
    ...more,
  }
}
const review = (job: string, verdict: string, more: object = {}, cause = 'filmHeavy') =>
  entry(
    'CauseReviewed',
    { defect: 'runs', cause, verdict, panels: ['DRDR2222'], ...more },
    { job, reason: 'cut it open' },
  )
const many = (n: number, verdict: string, more: object = {}, cause = 'filmHeavy') =>
  Array.from({ length: n }, (_, i) => review(`JOB${i}${cause}`, verdict, more, cause))

describe('reviews', () => {
  test('accepting names the cause, rejecting none, and editing another one', () => {
    const found = reviewsIn([
      review('A', 'accept'),
      review('B', 'reject'),
      review('C', 'edit', { instead: 'cold' }),
    ]).map((one) => one.found)
    expect(found).toEqual(['filmHeavy', null, 'cold'])
  })

  test('the last word of a job on a cause counts, and what was voided does not', () => {
    const first = review('A', 'accept')
    const second = review('A', 'reject')
    expect(reviewsIn([first, second])).toMatchObject([{ found: null }])
    const gone = entry('EntryVoided', { entry: second.id, type: 'CauseReviewed' })
    expect(reviewsIn([second, gone])).toEqual([])
  })

  test('a defect that this program does not know counts for nothing', () => {
    expect(
      reviewsIn([entry('CauseReviewed', { defect: 'rust', cause: 'x', verdict: 'accept' })]),
    ).toEqual([])
  })
})

describe('a shop’s own figures', () => {
  test('there are none before thirty reviews have named a cause', () => {
    const almost = reviewsIn([
      ...many(REVIEWS_LEAST - 1, 'accept'),
      ...many(40, 'reject', {}, 'cold'),
    ])
    const before = priorsOf('runs', almost)
    expect(before.closed).toBe(REVIEWS_LEAST - 1)
    expect(ownPriors(before)).toEqual({})
    expect(REVIEWS_LEAST).toBe(30)
  })

  test('with thirty a cause that was always found is more usual, and all still add up to the same', () => {
    const { priors } = priorsOf('runs', reviewsIn(many(REVIEWS_LEAST, 'accept')))
    const of = (id: string) => priors.find(({ cause }) => cause === id)
    expect(of('filmHeavy')?.own).toBeGreaterThan(of('filmHeavy')?.usual ?? 1)
    expect(of('cold')?.own).toBeLessThan(of('cold')?.usual ?? 0)
    const sum = (key: 'own' | 'usual') => priors.reduce((all, one) => all + (one[key] ?? 0), 0)
    expect(sum('own')).toBeCloseTo(sum('usual'), 9)
    expect(priors.map(({ cause }) => cause)).toEqual(causesOf('runs').map(({ id }) => id))
    // Half of the usual figure, and half of what was found.
    const whole = sum('usual')
    expect(of('filmHeavy')?.own).toBeCloseTo(((of('filmHeavy')?.usual ?? 0) + whole) / 2, 9)
  })
})

test('a deviation is settled by a person, whose last word counts, with the reason', () => {
  const broken = { code: 'flashNotOver', limit: 9, value: 4 }
  const coat = entry('CoatStarted', {}, { panel: 'DRDR2222', outside: [broken] })
  const settled = (disposition: string) =>
    entry(
      'DeviationSettled',
      { entry: coat.id, code: 'flashNotOver', disposition },
      { job: 'VANJAB22', reason: 'CLIMATE', by: 'ann' },
    )
  const is = (...more: Draft[]) => deviationsIn([coat, ...more])[0]?.disposition
  expect(is()).toMatchObject({ is: 'watch', by: null })
  expect(is(settled('rework'), settled('accept'))).toMatchObject({
    ...{ is: 'accept', by: 'ann', reason: 'CLIMATE' },
  })
  const other = entry('DeviationSettled', {
    entry: coat.id,
    code: 'potLifeOver',
    disposition: 'discard',
  })
  expect(is(other)).toMatchObject({ is: 'watch' })
})
