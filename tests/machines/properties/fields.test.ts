import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { folders } from '../../../machines/folders.ts'
import { liveIn } from '../../../machines/live.ts'
import type { State } from '../../../machines/state.ts'
import { type Kept, keptOfCup, keptOfJob, keptOfPanel, wrongIn } from '../../support/keptFields.ts'
import { dayOf, intents } from '../../support/randomDay.ts'
import { patience, runs, tries } from '../../support/randomRuns.ts'
import { foldAll, shuffled } from '../../support/randomStates.ts'

/** What a chart keeps beside its state is there exactly in the states that it belongs to. */

const order = fc.array(fc.nat({ max: 1008 }), { maxLength: 40, size: 'max' })

/** Of every panel after each of its entries, of every cup and job as it is. */
function keptIn({ things }: State): Kept[] {
  const ofPanels = Object.values(things.panel).flatMap(({ entries }) => {
    let folded = folders.panel.blank
    return liveIn(entries).map((entry) => {
      folded = folders.panel.step(folded, entry)
      return keptOfPanel(folded)
    })
  })
  const ofCups = Object.values(things.cup).map(keptOfCup)
  return [...ofPanels, ...ofCups, ...Object.values(things.job).map(keptOfJob)]
}

describe('over a random day', { timeout: patience }, () => {
  test('a coat, a cure and the time of an end are kept exactly in their own states', () => {
    const seen = new Map<string, number>()
    fc.assert(
      fc.property(intents, order, fc.boolean(), (all, by, isInOrder) => {
        const { entries } = dayOf(all)
        // With gaps as well: some of the entries may never have been told.
        const told = isInOrder ? entries : shuffled(entries, by).filter((_, i) => i % 7 !== 0)
        for (const kept of keptIn(foldAll(told))) {
          expect(wrongIn(kept)).toEqual([])
          for (const [field, isSet] of kept) seen.set(field, (seen.get(field) ?? 0) + Number(isSet))
        }
      }),
      tries(25),
    )
    // A random day seldom has a cure: walks.test.ts comes to every state.
    for (const field of ['open', 'emptiedAt'])
      expect(seen.get(field), field).toBeGreaterThan(runs(1))
  })
})
