import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { CommandData } from '../../../machines/commands.ts'
import type { Draft, Entry } from '../../../machines/envelope.ts'
import { dayOf, intents, keptIntents, type RandomDay, type Sent } from '../../support/randomDay.ts'
import { type Claim, type Findings, judgeAgain } from '../../support/randomJudge.ts'
import { Known } from '../../support/randomKnown.ts'
import { patience, runs, tries } from '../../support/randomRuns.ts'

/** What a coat's start claims; null for an entry that is not the start of a coat. */
function claimOf(e: Draft): Claim | null {
  const told = e.data.startedAt ?? e.data.estimatedStartAt
  // A finish that was judged brought its own start.
  const isStart = e.type === 'CoatStarted' || (e.type === 'CoatFinished' && 'judged' in e.data)
  if (!isStart || e.panel === undefined) return null
  return {
    panel: e.panel,
    startAt: e.type === 'CoatStarted' ? e.at : Number(told),
    // A start that was typed says that the cup was there by then; an estimate says nothing.
    cupBy: typeof e.data.startedAt === 'number' ? e.data.startedAt : e.at,
    cup: e.cup,
    gun: e.type === 'CoatStarted' ? e.gun : undefined,
    step: e.data.step as number | undefined,
    by: e.by,
    isStart: e.type === 'CoatStarted',
  }
}

/** What the log knew when an entry was decided: all before it, and what its own command took back. */
const knownTo = (entries: readonly Entry[], e: Entry) =>
  new Known(
    entries.filter(
      (k) => k.position < e.position && (k.command !== e.command || k.type === 'EntryVoided'),
    ),
  )

const saidOf = (e: Draft): string[] => [
  ...(e.outside ?? []).map((o) => o.code),
  ...(e.override?.codes ?? []),
]

/** Codes on which a coat's entry and a second judgement of it do not agree. */
function disagreements(e: Draft, findings: Findings): string[] {
  const said = saidOf(e)
  return Object.entries(findings).flatMap(([code, broken]) => {
    if (broken === 'close') return []
    const unjudged = code.startsWith('notJudged ') ? code.slice('notJudged '.length) : null
    const isSaid = unjudged === null ? said.includes(code) : (e.notJudged ?? []).includes(unjudged)
    return isSaid === (broken === 'yes') ? [] : [`${code}: said ${isSaid}, expected ${broken}`]
  })
}

function coatsOf(one: RandomDay): { e: Entry; claim: Claim }[] {
  return one.entries.flatMap((e) => {
    const claim = claimOf(e)
    return claim ? [{ e, claim }] : []
  })
}

type StartData = CommandData<'StartCoat'>

/** A live press stands behind what it is decided on, which may be a few milliseconds ahead of it. */
const BEHIND_MS = 20

/** When a start was pressed, behind what was known of what it names. */
function pressedAt(known: Known, { panels, cup, gun }: StartData, at: number): number {
  const isNamed = (e: Draft) =>
    (e.panel !== undefined && panels.includes(e.panel)) ||
    (e.cup !== undefined && e.cup === cup) ||
    (e.gun !== undefined && e.gun === gun)
  const ahead = known.live.filter((e) => isNamed(e) && e.at > at && e.at <= at + BEHIND_MS)
  return Math.max(at, ...ahead.map((e) => e.at))
}

/** A refused start whose reasons a second judge cannot find on any of its panels. */
function baselessRefusals(one: RandomDay, sent: Sent): string[] {
  if (!('refusal' in sent.answer) || sent.command.type !== 'StartCoat') return []
  const { data, by } = sent.command
  const known = new Known(one.entries.filter((k) => k.position <= sent.before.head))
  const startAt = pressedAt(known, data, Math.min(sent.command.at ?? sent.now, sent.now))
  const all = data.panels.map((panel) =>
    judgeAgain(known, { ...data, by, panel, startAt, cupBy: startAt, isStart: true }),
  )
  const { code, also } = sent.answer.refusal
  return [code, ...also].filter(
    (c) => all.some((f) => f && c in f) && !all.some((f) => f && f[c] !== 'no'),
  )
}

describe('every coat, judged again by steps through time from what the log then knew', () => {
  test('names every rule that it breaks, and no other', {
    timeout: patience,
  }, () => {
    let coats = 0
    let broken = 0
    fc.assert(
      fc.property(intents, (all) => {
        const one = dayOf(all)
        for (const { e, claim } of coatsOf(one)) {
          const findings = judgeAgain(knownTo(one.entries, e), claim)
          expect(findings).not.toBeNull()
          const wrong = disagreements(e, findings ?? {})
          expect(wrong, `${e.type} ${e.id} in\n${wrong.length > 0 ? one.trace() : ''}`).toEqual([])
          coats += 1
          broken += saidOf(e).length > 0 ? 1 : 0
        }
      }),
      tries(60),
    )
    // A property of coats that were never sprayed, or never wrong, would prove nothing.
    expect(coats).toBeGreaterThan(runs(20))
    expect(broken).toBeGreaterThan(runs(2))
  })

  test('on days with nights between them, by how long a mix keeps as it was said since it was mixed', {
    timeout: patience,
  }, () => {
    let over = 0
    let asked = 0
    fc.assert(
      fc.property(keptIntents, (all) => {
        const one = dayOf(all, { hasNights: true })
        for (const { e, claim } of coatsOf(one)) {
          const wrong = disagreements(e, judgeAgain(knownTo(one.entries, e), claim) ?? {})
          expect(wrong, `${e.type} ${e.id} in\n${wrong.length > 0 ? one.trace() : ''}`).toEqual([])
          asked += e.notJudged?.includes('keepOver') ? 1 : 0
          over += saidOf(e).includes('keepOver') ? 1 : 0
        }
        for (const sent of one.sent) {
          expect(baselessRefusals(one, sent), sent.command.id).toEqual([])
          const codes = 'refusal' in sent.answer ? [sent.answer.refusal.code] : []
          over += codes.includes('keepOver') ? 1 : 0
        }
      }),
      tries(40),
    )
    // Days on which no figure ended a mix would prove nothing.
    expect(over).toBeGreaterThan(runs(3))
    expect(asked).toBeGreaterThan(runs(10))
  })

  test('is refused for reasons that the second judge finds too', { timeout: patience }, () => {
    let refused = 0
    fc.assert(
      fc.property(intents, (all) => {
        const one = dayOf(all)
        for (const sent of one.sent) {
          const baseless = baselessRefusals(one, sent)
          const day = baseless.length > 0 ? one.trace() : ''
          expect(baseless, `${sent.command.id} in\n${day}`).toEqual([])
          refused += 'refusal' in sent.answer && sent.command.type === 'StartCoat' ? 1 : 0
        }
      }),
      tries(30),
    )
    expect(refused).toBeGreaterThan(runs(1))
  })
})
