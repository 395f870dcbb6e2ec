import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { KINDS } from '../../../machines/catalog.ts'
import { deadlines } from '../../../machines/deadlines.ts'
import { thaw } from '../../../machines/fold.ts'
import type { State } from '../../../machines/state.ts'
import { trim } from '../../../machines/trim.ts'
import { dayOf, intents } from '../../support/randomDay.ts'
import { patience, runs, tries } from '../../support/randomRuns.ts'
import { expectSame, frozen, textOf } from '../../support/randomStates.ts'

const HOUR_MS = 3_600_000
/** How long after the last entry the state is trimmed: at once, over night, after a week and more. */
const later = fc.constantFrom(0, 13, 30, 8 * 24, 40 * 24)
const day = fc.tuple(intents, later).map(([all, hours]) => {
  const one = dayOf(all)
  return {
    ...one,
    entries: one.entries,
    state: one.state,
    now: one.state.recordedAt + hours * HOUR_MS,
  }
})

const refsOf = (state: State) =>
  KINDS.flatMap((kind) => Object.keys(state.things[kind]).map((id) => ({ kind, id })))

describe('a state that was trimmed', { timeout: patience }, () => {
  test('has nothing more to evict', () => {
    fc.assert(
      fc.property(day, ({ state, now }) => {
        const once = trim(frozen(state), now)
        expectSame(trim(once, now), once)
      }),
      tries(25),
    )
  })

  test('gets back from the log whatever it evicted, as it was', () => {
    let gone = 0
    fc.assert(
      fc.property(day, ({ state, entries, now }) => {
        const trimmed = trim(state, now)
        for (const ref of refsOf(state)) {
          const was = state.things[ref.kind][ref.id]
          if (textOf(trimmed.things[ref.kind][ref.id] ?? null) === textOf(was)) continue
          gone += 1
          expectSame(
            thaw(trimmed, ref, entries).things[ref.kind][ref.id],
            was,
            `${ref.kind} ${ref.id}`,
          )
        }
        const back = refsOf(state).reduce((s, ref) => thaw(s, ref, entries), trimmed)
        expectSame(back, state)
      }),
      tries(25),
    )
    expect(gone).toBeGreaterThan(runs(2))
  })

  test('has the same deadlines, except those of what it evicted', () => {
    fc.assert(
      fc.property(day, ({ state, now }) => {
        const trimmed = trim(state, now)
        const isKept = ({ kind, id }: { kind: 'panel' | 'cup' | 'gun'; id: string }) =>
          Object.hasOwn(trimmed.things[kind], id)
        expectSame(
          deadlines(trimmed),
          deadlines(state).filter((d) => isKept(d.thing)),
        )
      }),
      tries(40),
    )
  })
})
