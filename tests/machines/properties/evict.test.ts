import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { KINDS } from '../../../machines/catalog.ts'
import { deadlines } from '../../../machines/deadlines.ts'
import { evict } from '../../../machines/evict.ts'
import { fold, reloaded } from '../../../machines/fold.ts'
import { follow } from '../../../machines/follow.ts'
import { type State, thingOf } from '../../../machines/state.ts'
import type { Thing } from '../../../machines/things.ts'
import { allKept } from '../../support/allKept.ts'
import { dayOf, intents, RandomDay } from '../../support/randomDay.ts'
import { patience, runs, tries } from '../../support/randomRuns.ts'
import { expectSame, frozen, START, textOf } from '../../support/randomStates.ts'

const HOUR_MS = 3_600_000
/** How long after the last entry it is evicted: at once, over night, after a week and more. */
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

/** Two days of a shop with a rest between: on the second one people also press what is over. */
const twoDays = fc.tuple(intents, later, intents, later).map(([first, rest, second, hours]) => {
  const both = new RandomDay().open().playAll(first)
  both.shop.now += rest * HOUR_MS
  both.playAll(second)
  const { entries, state } = both
  return { entries, state, now: state.recordedAt + hours * HOUR_MS }
})

/** A thing without the times of which it is held: reading it back does not say that there is no more. */
const unmarked = ({ heldMs: _, ...thing }: Thing) => thing
const allUnmarked = (state: State) =>
  KINDS.map((kind) =>
    Object.fromEntries(
      Object.entries(state.things[kind]).map(([id, thing]) => [id, unmarked(thing)]),
    ),
  )

const refsOf = (state: State) =>
  KINDS.flatMap((kind) => Object.keys(state.things[kind]).map((id) => ({ kind, id })))

describe('a state after an eviction', { timeout: patience }, () => {
  test('has nothing more to evict', () => {
    fc.assert(
      fc.property(day, ({ state, now }) => {
        const once = evict(frozen(state), now)
        expectSame(evict(once, now), once)
      }),
      tries(25),
    )
  })

  test('gets back from the log whatever was evicted, as it was', () => {
    let gone = 0
    fc.assert(
      fc.property(day, ({ state, entries, now }) => {
        const open = evict(state, now)
        // What takes its figures from cups is folded with them, and a cup with the panels that say where it was.
        const around = refsOf(state).filter(({ kind }) => kind === 'cup' || kind === 'panel')
        const withAll = around.reduce((s, ref) => reloaded(s, ref, entries), open)
        for (const ref of refsOf(state)) {
          const was = thingOf(state, ref)
          const held = thingOf(open, ref)
          if (was && held && textOf(unmarked(held)) === textOf(unmarked(was))) continue
          gone += 1
          const back = thingOf(reloaded(withAll, ref, entries), ref)
          expectSame(back && unmarked(back), was && unmarked(was), `${ref.kind} ${ref.id}`)
        }
        const back = refsOf(state).reduce((s, ref) => reloaded(s, ref, entries), open)
        expectSame(allUnmarked(back), allUnmarked(state))
      }),
      tries(25),
    )
    expect(gone).toBeGreaterThan(runs(2))
  })

  test('waits for the same moments, but for those of what was evicted', () => {
    fc.assert(
      fc.property(day, ({ state, now }) => {
        const open = evict(state, now)
        const isKept = ({ kind, id }: { kind: 'panel' | 'cup' | 'gun'; id: string }) =>
          Object.hasOwn(open.things[kind], id)
        expectSame(
          deadlines(open),
          deadlines(state).filter((d) => isKept(d.thing)),
        )
      }),
      tries(40),
    )
  })

  test('comes to the same on a kiosk that evicted at other moments, whatever came late', () => {
    let asked = 0
    fc.assert(
      fc.property(twoDays, fc.infiniteStream(fc.nat(9)), ({ state, entries, now }, dice) => {
        let whole = START
        let copy = START
        for (const entry of entries) {
          whole = fold(whole, entry)
          const next = follow(copy, entry, entry.recordedAt)
          // The server's own state is what it holds after the same entry.
          asked += next === null ? 1 : 0
          copy = next ?? evict(whole, entry.recordedAt)
          if (dice.next().value === 0) copy = evict(copy, entry.recordedAt)
        }
        const [here, there] = [allKept(evict(copy, now)), allKept(evict(state, now))]
        expectSame(allUnmarked(here), allUnmarked(there))
        expectSame(deadlines(here), deadlines(there))
      }),
      tries(60),
    )
    expect(asked).toBeGreaterThan(0)
  })
})
