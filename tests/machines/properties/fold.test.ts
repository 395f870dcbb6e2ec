import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { deadlines } from '../../../machines/deadlines.ts'
import type { Draft, Entry } from '../../../machines/envelope.ts'
import { evict } from '../../../machines/evict.ts'
import { fold } from '../../../machines/fold.ts'
import { dayOf, intents } from '../../support/randomDay.ts'
import { patience, runs, tries } from '../../support/randomRuns.ts'
import {
  bare,
  expectSame,
  foldAll,
  frozen,
  START,
  shuffled,
  throughJson,
} from '../../support/randomStates.ts'

const order = fc.array(fc.nat({ max: 1008 }), { maxLength: 40, size: 'max' })
const part = fc.double({ min: 0, max: 1, noNaN: true })

/** A deadline must be such that a clock can wait for it and a log can name it. */
function expectSound(entries: readonly Draft[], state = foldAll(entries)): void {
  const all = deadlines(state)
  expect(all.every((d) => Number.isFinite(d.dueAt))).toBe(true)
  expect(all.map((d) => d.dueAt)).toEqual(all.map((d) => d.dueAt).sort((a, b) => a - b))
  expect(new Set(all.map((d) => d.key)).size).toBe(all.length)
}

describe('the state of a shop', { timeout: patience }, () => {
  test('is the same folded live, from the log, through JSON halfway, and in any order of arrival', () => {
    fc.assert(
      fc.property(intents, part, order, (all, where, by) => {
        const { state, entries } = dayOf(all)
        expectSame(foldAll(entries), state, 'from the log')
        const half = Math.floor(where * entries.length)
        const halfway = throughJson(foldAll(entries.slice(0, half)))
        expectSame(foldAll(entries.slice(half), halfway), state, 'through JSON halfway')
        expectSame(foldAll(shuffled(entries, by)), state, 'in another order')
        expectSame(foldAll(entries.toReversed()), state, 'backwards')
      }),
      tries(25),
    )
  })

  test('is plain JSON: nothing is lost on the way to a file and back', () => {
    fc.assert(
      fc.property(intents, (all) => {
        const { state } = dayOf(all)
        expect(throughJson(state)).toStrictEqual(state)
      }),
      tries(5),
    )
  })

  test('goes on from a snapshot as from the state that was evicted for it', () => {
    fc.assert(
      fc.property(intents, part, (all, where) => {
        const { entries } = dayOf(all)
        const half = Math.floor(where * entries.length)
        const before = foldAll(entries.slice(0, half))
        const trimmed = evict(before, before.recordedAt)
        const rest = entries.slice(half)
        expectSame(foldAll(rest, throughJson(trimmed)), foldAll(rest, trimmed))
      }),
      tries(15),
    )
  })

  test('does not change when an entry comes a second time', () => {
    fc.assert(
      fc.property(intents, fc.nat(), (all, which) => {
        const { state, entries } = dayOf(all)
        const again = entries[which % Math.max(1, entries.length)]
        if (again) expectSame(fold(state, again), state)
      }),
      tries(15),
    )
  })

  test('is folded without touching the state or the entry that it is given', () => {
    fc.assert(
      fc.property(intents, order, (all, by) => {
        const entries = shuffled(dayOf(all).entries.map(throughJson), by)
        let state = frozen(START)
        for (const entry of entries) state = frozen(fold(state, frozen(entry)))
        expect(state.head).toBe(Math.max(0, ...entries.map((e) => e.position)))
      }),
      tries(15),
    )
  })

  test('can get anything late or in part: the fold never throws, and the deadlines stay sound', () => {
    fc.assert(
      fc.property(intents, order, order, (all, by, kept) => {
        const entries = shuffled(dayOf(all).entries, by)
        const some = entries.filter((_, i) => (kept[i % Math.max(1, kept.length)] ?? 1) % 3 !== 0)
        const stops = [0.2, 0.5, 0.8, 1].map((s) => Math.floor(s * some.length))
        for (const stop of stops) expectSound(some.slice(0, stop))
      }),
      tries(25),
    )
  })
})

/** A void as the log would have it, of any entry at all. */
function voidOf(e: Entry, position: number): Entry {
  const { data, outside, override, ...rest } = e
  const { key: bell, person, air } = data
  const named = throughJson({ bell, person, air }) as Draft['data']
  return {
    ...rest,
    id: `v${position}.0`,
    command: `v${position}`,
    type: 'EntryVoided',
    position,
    seq: position,
    data: { entry: e.id, type: e.type, ...named },
  }
}

const targetsOf = (entries: readonly Draft[]) =>
  new Set(entries.filter((e) => e.type === 'EntryVoided').map((e) => e.data.entry))

describe('a mistake that was voided', { timeout: patience }, () => {
  test('leaves the state as if it had never been, also where something was put in its place', () => {
    let pairs = 0
    let replaced = 0
    fc.assert(
      fc.property(intents, fc.boolean(), (all, ringsBells) => {
        const { state, entries } = dayOf(all, { ringsBells })
        const voided = targetsOf(entries)
        const never = entries.filter((e) => e.type !== 'EntryVoided' && !voided.has(e.id))
        expectSame(bare(state), bare(foldAll(never)))
        pairs += voided.size
        replaced += never.filter((e) => e.corrects !== undefined).length
      }),
      tries(25),
    )
    expect(pairs).toBeGreaterThan(runs(2))
    expect(replaced).toBeGreaterThan(0)
  })

  test('may be any entry, voided at any time, before or after it arrives', () => {
    fc.assert(
      fc.property(intents, order, order, (all, which, by) => {
        const { entries } = dayOf(all)
        const plain = entries.filter((e) => e.type !== 'EntryVoided')
        const wrong = plain.filter((_, i) => (which[i % Math.max(1, which.length)] ?? 0) % 4 === 1)
        const voids = wrong.map((e, i) => voidOf(e, entries.length + 1 + i))
        const never = plain.filter((e) => !wrong.includes(e))
        expectSame(bare(foldAll(shuffled([...plain, ...voids], by))), bare(foldAll(never)))
      }),
      tries(25),
    )
  })
})
