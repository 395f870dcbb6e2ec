import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Deadline } from '../../../machines/bell/deadline.ts'
import { parseCommand } from '../../../machines/contract.ts'
import { deadlineOf, deadlines, dueBells } from '../../../machines/deadlines.ts'
import { decide } from '../../../machines/decide.ts'
import { dueStep } from '../../../machines/panel/context.ts'
import { isSprayed } from '../../../machines/sheet/schema.ts'
import type { State } from '../../../machines/state.ts'
import { dayOf, intents, type RandomDay } from '../../support/randomDay.ts'
import { patience, runs, tries } from '../../support/randomRuns.ts'
import { idOf, openPanels } from '../../support/randomView.ts'
import { madeContext } from '../../support/things.ts'

const REARM_MS = 60_000

/** Rings of one bell that were not of a deadline over a minute later than the ring before. */
function ringsTooMany(one: RandomDay): string[] {
  const rung = new Map<string, number>()
  return one.sent.flatMap(({ command, answer }) => {
    if (!('drafts' in answer)) return []
    // A ring that was voided has not rung.
    return answer.drafts.flatMap((d) => {
      const key = String(d.data.key ?? d.data.bell)
      if (d.type === 'EntryVoided' && d.data.type === 'BellRang') rung.delete(key)
      if (d.type !== 'BellRang') return []
      const before = rung.get(key)
      const dueAt = Number(d.data.dueAt)
      rung.set(key, dueAt)
      const isTooMany = before !== undefined && dueAt <= before + REARM_MS
      return isTooMany ? [`${command.id} ${key} at ${d.at}, due ${dueAt}, rung for ${before}`] : []
    })
  })
}

describe('a kiosk that rings whatever falls due', { timeout: patience }, () => {
  test('rings each bell once, again only for a deadline over a minute later, and comes to an end', () => {
    let rings = 0
    fc.assert(
      fc.property(intents, (all) => {
        const one = dayOf(all, { ringsBells: true })
        // After the last command bells keep ringing until none is due.
        one.ringUntil(Number.MAX_SAFE_INTEGER)
        expect(ringsTooMany(one), one.trace()).toEqual([])
        expect(dueBells(one.state, Number.MAX_SAFE_INTEGER)).toEqual([])
        rings += one.entries.filter((e) => e.type === 'BellRang').length
      }),
      tries(20),
    )
    expect(rings).toBeGreaterThan(runs(20))
  })

  test('finds a bell by its key, among what the key may be about, as among all', () => {
    let found = 0
    fc.assert(
      fc.property(intents, (all) => {
        const { state } = dayOf(all)
        const every = deadlines(state)
        // A copy: nothing was calculated of it yet.
        for (const one of every) expect(deadlineOf({ ...state }, one.key)).toEqual(one)
        expect(deadlineOf({ ...state }, 'coatReady:nothing')).toBeUndefined()
        found += every.length
      }),
      tries(20),
    )
    expect(found).toBeGreaterThan(runs(20))
  })

  test('never rings before a bell is due', () => {
    fc.assert(
      fc.property(intents, (all) => {
        const one = dayOf(all, { ringsBells: true })
        for (const e of one.entries) {
          if (e.type === 'BellRang')
            expect(e.at).toBeGreaterThanOrEqual(Number(e.data.dueAt) - 2_000)
        }
      }),
      tries(10),
    )
  })
})

/** All refusal codes for a command that arrives at an instant. */
function against(state: State, type: string, data: object, at: number): string[] {
  const parsed = parseCommand({ id: 'asked', type, data })
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error))
  const decided = decide(state, parsed.value, at)
  if ('refusal' in decided) return [decided.refusal.code, ...decided.refusal.also]
  return 'drafts' in decided ? [] : ['error']
}

type Question = {
  readonly code: string
  readonly ask: (at: number) => string[]
  readonly isWait: boolean
}

const panelOf = (state: State, id: string) => madeContext(state, 'panel', id)

/** What a bell says, put as a question to decide: what is refused until then, or from then on. */
function questionOf(state: State, { bell, key, thing, mode = 'bake' }: Deadline): Question | null {
  const { id } = thing
  const coat = (at: number) => against(state, 'StartCoat', { panels: [id], cup: idOf('C', 0) }, at)
  const panel = openPanels(state)[0]?.id
  switch (bell) {
    case 'coatReady':
      return key.endsWith(':again')
        ? { code: 'windowShut', isWait: true, ask: coat }
        : { code: 'flashNotOver', isWait: true, ask: coat }
    case 'windowShut':
      return { code: 'windowShut', isWait: false, ask: coat }
    case 'mayGoToHeat':
      return {
        code: 'flashNotOver',
        isWait: true,
        ask: (at) => against(state, 'StartCure', { panels: [id], mode }, at),
      }
    case 'cureOver':
      return {
        code: 'cureNotOver',
        isWait: true,
        ask: (at) => against(state, 'PassPanel', { panel: id }, at),
      }
    case 'potOver':
      return {
        code: 'potLifeOver',
        isWait: false,
        ask: (at) => against(state, 'PourCup', { cup: idOf('C', 0), from: [{ cup: id }] }, at),
      }
    case 'inductionOver':
      if (panel === undefined) return null
      return {
        code: 'inductionNotOver',
        isWait: true,
        ask: (at) => against(state, 'StartCoat', { panels: [panel], cup: id }, at),
      }
    case 'keepUntil':
    case 'look':
    case 'potNear':
    case 'coatOpen':
    case 'windowClosing':
    case 'gunNear':
    case 'gunDue':
      return null
  }
}

/** A bell about a coat asks of the step that is due; a pass's bell is at its last panel. */
function canAsk(state: State, due: Deadline): boolean {
  if (new Set(due.panels).size > 1) return false
  if (due.thing.kind !== 'panel') return true
  const panel = panelOf(state, due.thing.id)
  const stage = panel.route[dueStep(panel)]?.stage ?? 'prep'
  return due.bell === 'coatReady' || due.bell === 'windowShut' ? isSprayed(stage) : true
}

/** Bells that decide does not agree with, a millisecond before or at their moment. */
function wrongBells(one: RandomDay): { asked: number; wrong: string[] } {
  const { state, now } = one
  const wrong: string[] = []
  let asked = 0
  for (const due of deadlines(state)) {
    const question = questionOf(state, due)
    // What is past would be asked of the state as it was then.
    if (!question || due.dueAt - 1 <= now || !canAsk(state, due)) continue
    asked += 1
    const { code, isWait, ask } = question
    const before = ask(due.dueAt - 1).includes(code)
    const then = ask(due.dueAt).includes(code)
    if (before !== isWait || then === isWait)
      wrong.push(`${due.key}: ${before} before, ${then} then`)
  }
  return { asked, wrong }
}

describe('what a bell says', { timeout: patience }, () => {
  test('is what a command is judged by: refused until then, or from then on, to the millisecond', () => {
    let all = 0
    fc.assert(
      fc.property(intents, (what) => {
        const one = dayOf(what)
        const { asked, wrong } = wrongBells(one)
        all += asked
        expect(wrong, wrong.length > 0 ? one.trace() : '').toEqual([])
      }),
      tries(40),
    )
    expect(all).toBeGreaterThan(runs(4))
  })
})
