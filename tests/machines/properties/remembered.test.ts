import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, test } from 'vitest'
import { airOf } from '../../../machines/climate/fold.ts'
import { cupEndsAt } from '../../../machines/cup/ends.ts'
import { deadlines } from '../../../machines/deadlines.ts'
import type { Draft } from '../../../machines/envelope.ts'
import { evict } from '../../../machines/evict.ts'
import { fold } from '../../../machines/fold.ts'
import { gunEndsAt } from '../../../machines/gun/find.ts'
import { surfaceNow } from '../../../machines/panel/surface.ts'
import type { State } from '../../../machines/state.ts'
import { dayOf, intents } from '../../support/randomDay.ts'
import { patience, tries } from '../../support/randomRuns.ts'
import { expectSame, START, shuffled, throughJson } from '../../support/randomStates.ts'

const HOURS = [0, 1, 5, 24 * 8]
const order = fc.array(fc.nat({ max: 1008 }), { maxLength: 40, size: 'max' })

/** What is remembered of parts of a state by what they are, as everybody asks for it. */
function asked(state: State, now: number) {
  const { zone, cup, gun, panel } = state.things
  return {
    airs: Object.keys(zone).map((id) => airOf(state, id)),
    cups: Object.values(cup).map(({ context }) => cupEndsAt(state, context)),
    guns: Object.values(gun).map(({ context }) => gunEndsAt(state, context)),
    surfaces: Object.values(panel).map(({ context }) => surfaceNow(state, context, now)),
    deadlines: deadlines(state),
    open: HOURS.map((hours) => evict(state, now + hours * 3_600_000)),
  }
}

function expectRemembered(entries: readonly Draft[]): void {
  const now = Math.max(0, ...entries.map(({ at }) => at))
  let state = START
  for (const entry of entries) {
    const anew = fold(throughJson(state), entry)
    state = fold(state, entry)
    expectSame(state, anew, entry.type)
    expectSame(asked(state, now), asked(throughJson(state), now), entry.type)
  }
}

const VAN = readFileSync(new URL('../../logs/0.1.0-van.jsonl', import.meta.url), 'utf8')

describe('what is remembered of a state', { timeout: patience }, () => {
  test('is what a state says that nothing is remembered of, after every entry in any order', () => {
    fc.assert(
      fc.property(intents, order, (all, by) => expectRemembered(shuffled(dayOf(all).entries, by))),
      tries(2),
    )
  })

  test('is so of the van, with a bake beside its cups', () => {
    expectRemembered(
      VAN.trim()
        .split('\n')
        .map((line) => JSON.parse(line) as Draft),
    )
  })
})
