import fc from 'fast-check'
import { expect, test } from 'vitest'
import { packed, unpacked } from '../../machines/contract/packedState.ts'
import type { Draft } from '../../machines/envelope.ts'
import { fold } from '../../machines/fold.ts'
import type { State } from '../../machines/state.ts'
import { dayOf, intents } from '../support/randomDay.ts'
import { patience, tries } from '../support/randomRuns.ts'
import { expectSame, throughJson } from '../support/randomStates.ts'
import { withoutSeals } from '../support/seals.ts'

const entriesOf = (state: State): Draft[] =>
  Object.values(state.things).flatMap((ofKind) => Object.values(ofKind).flatMap((t) => t.entries))

test('whatever happened in a shop, its state comes back from the wire, and folds on, the same', {
  timeout: patience,
}, () => {
  let shared = 0
  fc.assert(
    fc.property(intents, (all) => {
      const day = dayOf(all)
      const { state } = day
      const wire = packed(state)
      const back = unpacked(throughJson(wire))
      expectSame(back, withoutSeals(state))
      const ids = wire.entries.map(({ id }) => id)
      expect(new Set(ids).size).toBe(ids.length)
      const texts = wire.shared.map((one) => JSON.stringify(one))
      expect(new Set(texts).size).toBe(texts.length)
      // What an id, a time and the shop say is not said again.
      expect(wire.entries.filter((e) => e.shop === state.shop || e.enteredAt === e.at)).toEqual([])
      shared += entriesOf(state).length - ids.length
      // A late fact is put among the entries of its thing, which is folded again from them all.
      const first = day.entries[0]
      if (first) {
        const late = { ...first, id: 'late.0', command: 'late', at: first.at + 1 }
        expectSame(withoutSeals(fold(back, late)), withoutSeals(fold(state, late)))
      }
    }),
    tries(25),
  )
  expect(shared).toBeGreaterThan(0)
})
