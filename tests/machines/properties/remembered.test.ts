import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { airOf } from '../../../machines/climate/fold.ts'
import { heatsIn } from '../../../machines/climate/heats.ts'
import { cupEndsAt } from '../../../machines/cup/ends.ts'
import { deadlines } from '../../../machines/deadlines.ts'
import type { Draft } from '../../../machines/envelope.ts'
import { evict } from '../../../machines/evict.ts'
import { fold } from '../../../machines/fold.ts'
import { cupsBackFrom } from '../../../machines/gun/back.ts'
import { filledSince } from '../../../machines/gun/filled.ts'
import { gunEndsAt } from '../../../machines/gun/find.ts'
import { surfaceNow } from '../../../machines/panel/surface.ts'
import { clocksChanged } from '../../../machines/standing.ts'
import type { State } from '../../../machines/state.ts'
import { dayOf, intents } from '../../support/randomDay.ts'
import { patience, tries } from '../../support/randomRuns.ts'
import { expectSame, foldAll, START, shuffled, throughJson } from '../../support/randomStates.ts'

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
    heats: Object.keys(zone).map((id) => heatsIn(state, id)),
    filled: [0, now, now + 1].map((at) => filledSince(cup, at)),
    back: Object.keys(gun).map((id) => cupsBackFrom(state, id)),
    open: HOURS.map((hours) => evict(state, now + hours * 3_600_000)),
  }
}

/** The things whose clocks an entry may have changed, in one order. */
const changedBy = (before: State, after: State, entry: Draft, now: number): string[] =>
  clocksChanged(before, after, [entry], now)
    .map(({ kind, id }) => `${kind} ${id}`)
    .toSorted()

/** The same things in records that nobody saw being made. */
const asIfAlone = (state: State): State => {
  const { panel, cup, gun } = state.things
  return {
    ...state,
    things: { ...state.things, panel: { ...panel }, cup: { ...cup }, gun: { ...gun } },
  }
}

function expectRemembered(entries: readonly Draft[]): void {
  const now = Math.max(0, ...entries.map(({ at }) => at))
  let state = START
  for (const entry of entries) {
    const anew = fold(throughJson(state), entry)
    // What is folded only to see what comes of it leaves nothing behind.
    fold(state, { ...entry, id: `${entry.id} tried` })
    const next = fold(state, entry)
    const changed = changedBy(asIfAlone(state), asIfAlone(next), entry, now)
    expectSame(changedBy(state, next, entry, now), changed, entry.type)
    state = next
    expectSame(state, anew, entry.type)
    expectSame(asked(state, now), asked(throughJson(state), now), entry.type)
  }
}

const VAN = readFileSync(new URL('../../logs/0.1.0-van.jsonl', import.meta.url), 'utf8')

const entriesOfVan = (): Draft[] =>
  VAN.trim()
    .split('\n')
    .map((line) => JSON.parse(line) as Draft)

describe('what is remembered of a state', { timeout: patience }, () => {
  test('is what a state says that nothing is remembered of, after every entry in any order', () => {
    fc.assert(
      fc.property(intents, order, (all, by) => expectRemembered(shuffled(dayOf(all).entries, by))),
      tries(2),
    )
  })

  test('is no heat any more where its start was taken back', () => {
    const van = entriesOfVan()
    const start = van.findIndex(({ type }) => type === 'CureStarted')
    const cure = van[start] as Draft
    const state = foldAll(van.slice(0, start + 1))
    const zones = Object.keys(state.things.zone)
    expect(zones.flatMap((zone) => heatsIn(state, zone))).toHaveLength(1)
    const { id: entry, type } = cure
    const voided = { ...cure, id: 'void', type: 'EntryVoided', data: { entry, type } }
    const after = fold(state, voided)
    expect(zones.flatMap((zone) => heatsIn(after, zone))).toEqual([])
  })

  test('is so of the van, with a bake beside its cups', () => {
    expectRemembered(entriesOfVan())
  })
})
