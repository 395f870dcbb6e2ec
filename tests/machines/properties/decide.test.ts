import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { EVENTS, type EventType } from '../../../machines/catalog.ts'
import { parseCommand } from '../../../machines/contract.ts'
import { decide } from '../../../machines/decide.ts'
import { fold } from '../../../machines/fold.ts'
import type { State } from '../../../machines/state.ts'
import {
  COMMAND_TYPES,
  dayOf,
  evenIntents,
  intents,
  isAccepted,
  type Sent,
} from '../../support/randomDay.ts'
import { patience, runs, tries } from '../../support/randomRuns.ts'
import { expectSame, frozen, textOf, throughJson } from '../../support/randomStates.ts'
import { answerTo } from '../../support/shop.ts'

const again = ({ before, command, now }: Sent) => answerTo(decide(before, command, now), now)

describe('a command', { timeout: patience }, () => {
  test('is decided alike however often it is asked, and touches neither state nor command', () => {
    fc.assert(
      fc.property(intents, fc.nat({ max: 9 }), (all, some) => {
        const { sent } = dayOf(all)
        for (const [i, one] of sent.entries()) {
          frozen(one.before)
          frozen(one.command)
          expectSame(again(one), one.answer)
          if (i % 10 !== some) continue
          // A state out of a file, so that nothing that is remembered beside a state can help.
          const afresh = { ...one, before: throughJson(one.before) }
          expectSame(again(afresh), one.answer, 'from a state out of a file')
        }
      }),
      tries(25),
    )
  })

  test('that is refused or wrong changes nothing at all', () => {
    let refused = 0
    fc.assert(
      fc.property(intents, (all) => {
        const { sent } = dayOf(all)
        for (const one of sent.filter((s) => !isAccepted(s))) {
          refused += 1
          const before = textOf(one.before)
          expect(one.after).toBe(one.before)
          again(one)
          expect(textOf(one.before) === before).toBe(true)
        }
      }),
      tries(15),
    )
    expect(refused).toBeGreaterThan(runs(2))
  })

  test('that is accepted live says nothing that a chart does not take from where the thing stands', () => {
    const notTaken = ({ things }: State) =>
      Object.values(things).flatMap((ofKind) =>
        Object.values(ofKind).flatMap((thing) => thing.notTaken),
      )
    let live = 0
    fc.assert(
      fc.property(intents, (all) => {
        for (const { before, command, now, answer, after } of dayOf(all).sent) {
          const isLive = command.at === undefined || command.at === now
          if (!isLive || !('drafts' in answer) || command.type === 'VoidEntry') continue
          live += 1
          const was = new Set(notTaken(before))
          // A finish that nobody started is a late fact: it is kept, with what it broke.
          const broke = new Set(answer.drafts.flatMap((d) => (d.outside ? [d.id] : [])))
          const lost = notTaken(after).filter((id) => !was.has(id) && !broke.has(id))
          expect(lost, JSON.stringify(command)).toEqual([])
        }
      }),
      tries(15),
    )
    expect(live).toBeGreaterThan(runs(50))
  })

  test('gives entries that each belong to a thing and are themselves plain JSON', () => {
    fc.assert(
      fc.property(intents, (all) => {
        const one = dayOf(all)
        const ids = one.entries.map((e) => e.id)
        expect(new Set(ids).size).toBe(ids.length)
        for (const e of one.entries) expect(throughJson(e)).toStrictEqual(e)
        for (const { before, answer } of one.sent) {
          if (!('drafts' in answer)) continue
          for (const draft of answer.drafts) {
            const isRecordOnly = EVENTS[draft.type as EventType].of.length === 0
            if (draft.type !== 'EntryVoided' && isRecordOnly) continue
            expect(fold(before, draft), draft.id).not.toBe(before)
          }
        }
      }),
      tries(10),
    )
  })

  test('is parsed to itself: what the schema gives it accepts again', () => {
    fc.assert(
      fc.property(intents, (all) => {
        for (const { command } of dayOf(all).sent) {
          expect(parseCommand(throughJson(command))).toEqual({ ok: true, value: command })
        }
      }),
      tries(10),
    )
  })
})

describe('the random days that all these tests are made of', { timeout: patience }, () => {
  test('are accepted for the most part, and refused now and then', () => {
    const answers = fc.sample(intents, 60).flatMap((all) => dayOf(all).sent.map(isAccepted))
    const share = answers.filter((ok) => ok).length / answers.length
    expect(share).toBeGreaterThan(0.6)
    expect(share).toBeLessThan(0.99)
  })

  test('leave no command out: each is accepted at some time', () => {
    const accepted = fc.sample(evenIntents, 120).flatMap((all) => {
      return dayOf(all).sent.flatMap((s) => (isAccepted(s) ? [s.command.type] : []))
    })
    const types = new Set(accepted)
    // A command that is new needs a way to come about in tests/support/random*.ts.
    expect(COMMAND_TYPES.filter((type) => !types.has(type))).toEqual([])
  })
})
