import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { intents } from '../../support/randomDay.ts'
import { deliver, offlineDay, standing } from '../../support/randomQueues.ts'
import { patience, runs, tries } from '../../support/randomRuns.ts'
import { expectSame, textOf } from '../../support/randomStates.ts'

const order = fc.array(fc.nat({ max: 999 }), { minLength: 1, maxLength: 60, size: 'max' })

describe('what several devices kept while they were offline', { timeout: patience }, () => {
  test('leaves panels and cups the same in whatever order the devices come back', () => {
    let compared = 0
    let entries = 0
    fc.assert(
      fc.property(intents, order, order, (all, by, otherwise) => {
        const offline = offlineDay(all)
        const one = deliver(offline, by)
        const other = deliver(offline, otherwise)
        // Where a command is refused in one of them, or adds nothing, that shop knows less.
        const told = textOf(one.counts)
        if (one.counts.includes(null) || told !== textOf(other.counts)) return
        compared += 1
        entries += one.counts.reduce<number>((sum, n) => sum + (n ?? 0), 0)
        expectSame(standing(one.day.state), standing(other.day.state), one.day.trace())
      }),
      tries(40),
    )
    expect(compared).toBeGreaterThan(runs(5))
    expect(entries).toBeGreaterThan(runs(40))
  })

  test('is taken late, whatever it broke: little is turned away', () => {
    const counts = fc.sample(fc.tuple(intents, order), runs(20)).flatMap(([all, by]) => {
      return deliver(offlineDay(all), by).counts
    })
    const refused = counts.filter((n) => n === null)
    expect(counts.length).toBeGreaterThan(runs(60))
    expect(refused.length / counts.length).toBeLessThan(0.3)
  })
})
