import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type AnyStateMachine, transition } from 'xstate'
import { type Kind, streamsOf } from '../../../machines/catalog.ts'
import { cupMachine } from '../../../machines/cup/machine.ts'
import { byOccurrence, type Draft } from '../../../machines/envelope.ts'
import { gunMachine } from '../../../machines/gun/machine.ts'
import { jobMachine } from '../../../machines/job/machine.ts'
import { panelMachine } from '../../../machines/panel/machine.ts'
import { type Folded, machineFolder } from '../../../machines/replay.ts'
import { dayOf, intents } from '../../support/randomDay.ts'
import { patience, runs, tries } from '../../support/randomRuns.ts'
import { shuffled } from '../../support/randomStates.ts'

/** What folds is the chart: the table that is stepped through comes to what XState itself comes to. */

const charted = (kind: Kind, machine: AnyStateMachine) => ({
  kind,
  machine,
  folder: machineFolder(machine),
})
const MACHINES = [
  charted('panel', panelMachine),
  charted('cup', cupMachine),
  charted('gun', gunMachine),
  charted('job', jobMachine),
]

/** One step by XState itself. */
function byXState(machine: AnyStateMachine, from: Folded, entry: Draft): Folded {
  const before = machine.resolveState({ value: from.value as string, context: from.context })
  const [after, effects] = transition(machine, before, entry)
  expect(effects).toEqual([])
  return after === before
    ? { ...from, notTaken: [...from.notTaken, entry.id] }
    : { value: after.value, context: after.context, notTaken: from.notTaken }
}

/** The streams of every thing of a kind, from entries in any order and with gaps. */
function streamsIn(entries: readonly Draft[], kind: Kind): Draft[][] {
  const streams = new Map<string, Draft[]>()
  for (const entry of entries) {
    for (const ref of streamsOf(entry)) {
      if (ref.kind !== kind || entry.type === 'EntryVoided') continue
      streams.set(ref.id, [...(streams.get(ref.id) ?? []), entry])
    }
  }
  return [...streams.values()]
}

const order = fc.array(fc.nat({ max: 1008 }), { maxLength: 40, size: 'max' })

/** A machine whose guards are counted. */
function counting(machine: AnyStateMachine) {
  const asked = { count: 0 }
  const guards = Object.entries(machine.implementations.guards).map(([name, guard]) => [
    name,
    (seen: unknown, params: unknown) => {
      asked.count += 1
      return typeof guard === 'function' && guard(seen as never, params as never)
    },
  ])
  return { asked, folder: machineFolder(machine.provide({ guards: Object.fromEntries(guards) })) }
}

describe('stepping through a chart', { timeout: patience }, () => {
  test('leads where XState leads, changes what it changes and takes what it takes', () => {
    const seen = { steps: 0, notTaken: 0 }
    fc.assert(
      fc.property(intents, order, fc.boolean(), (all, by, isInOrder) => {
        const { entries } = dayOf(all)
        const told = isInOrder ? entries.toSorted(byOccurrence) : shuffled(entries, by)
        for (const { kind, machine, folder } of MACHINES) {
          for (const stream of streamsIn(told, kind)) {
            let own: Folded = folder.blank
            for (const entry of stream) {
              const next = folder.step(own, entry)
              expect(next).toEqual(byXState(machine, own, entry))
              expect(folder.can(own, entry)).toBe(next.notTaken === own.notTaken)
              seen.steps += 1
              seen.notTaken += next.notTaken === own.notTaken ? 0 : 1
              own = next
            }
          }
        }
      }),
      tries(25),
    )
    expect(seen.steps).toBeGreaterThan(runs(500))
    expect(seen.notTaken).toBeGreaterThan(runs(5))
  })

  test('asks at most fifteen guards for an entry', () => {
    const counted = MACHINES.map(({ kind, machine }) => ({ kind, ...counting(machine) }))
    let most = 0
    fc.assert(
      fc.property(intents, order, (all, by) => {
        const { entries } = dayOf(all)
        for (const told of [entries, shuffled(entries, by)]) {
          for (const { kind, asked, folder } of counted) {
            for (const stream of streamsIn(told, kind)) {
              let own: Folded = folder.blank
              for (const entry of stream) {
                asked.count = 0
                own = folder.step(own, entry)
                most = Math.max(most, asked.count)
                expect(asked.count, `${kind} ${entry.type}`).toBeLessThanOrEqual(15)
              }
            }
          }
        }
      }),
      tries(25),
    )
    expect(most).toBeGreaterThan(5)
  })
})
