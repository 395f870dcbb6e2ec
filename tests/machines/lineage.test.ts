import fc from 'fast-check'
import { expect, test } from 'vitest'
import { findings, noteStep, putBetween } from '../../machines/lineage.ts'
import { tries } from '../support/randomRuns.ts'

/** Records of numbers, made as a state makes its own: each of one before it, or of none. */
type Numbers = { readonly [id: string]: number }

function put(from: Numbers, id: string, value: number): Numbers {
  const made = { ...from, [id]: value }
  noteStep(made, from, id)
  return made
}

/** From which record the next one is made, how many steps back; what is put in; whether it is made without saying so. */
const step = fc.record({
  back: fc.oneof({ weight: 9, arbitrary: fc.constant(0) }, fc.nat({ max: 90 })),
  id: fc.constantFrom('a', 'b', 'c', 'd'),
  value: fc.nat({ max: 9 }),
  isOther: fc.integer({ min: 0, max: 19 }).map((n) => n === 0),
  isAsked: fc.boolean(),
})
const manySteps = fc.array(step, { maxLength: 200, size: 'max' })

test('what was put in between two records is all in which they differ', () => {
  fc.assert(
    fc.property(manySteps, fc.nat(), fc.nat(), (steps, one, other) => {
      const made: Numbers[] = [{}]
      for (const { back, id, value, isOther } of steps) {
        const from = made.at(-1 - back) ?? {}
        made.push(isOther ? { ...from, [id]: value } : put(from, id, value))
      }
      const [earlier = {}, later = {}] = [one, other].map((n) => made[n % made.length])
      const ids = putBetween(earlier, later)
      const differ = Object.keys({ ...earlier, ...later }).filter((id) => earlier[id] !== later[id])
      if (ids !== null) expect(ids).toEqual(expect.arrayContaining(differ))
    }),
    tries(300),
  )
})

test('what goes on in one line is known, and is known again behind a long one', () => {
  let record: Numbers = {}
  for (let n = 0; n < 500; n += 1) {
    const next = put(record, `id-${n}`, n)
    expect(putBetween(record, next)).toEqual([`id-${n}`])
    record = next
  }
})

test('what is found going on from what was found is what is found of a record alone', () => {
  const sums = findings<Numbers, Numbers>()
  let asked = 0
  const told = (record: Numbers): Numbers => {
    const known = sums.since(record)
    if (!known) return sums.keep(record, { ...record })
    asked += known.ids.length
    const found: Record<string, number> = { ...known.was }
    for (const id of known.ids) if (record[id] !== undefined) found[id] = record[id]
    return sums.keep(record, found)
  }
  fc.assert(
    fc.property(manySteps, (steps) => {
      const made: Numbers[] = [{}]
      for (const { back, id, value, isOther, isAsked } of steps) {
        const from = made.at(-1 - back) ?? {}
        const next = isOther ? { ...from, [id]: value } : put(from, id, value)
        made.push(next)
        if (!isAsked) continue
        // Also one that others were made of since.
        for (const one of [next, from, made[made.length >> 1] ?? next])
          expect(told(one)).toEqual(one)
      }
    }),
    tries(300),
  )
  expect(asked).toBeGreaterThan(0)
})
