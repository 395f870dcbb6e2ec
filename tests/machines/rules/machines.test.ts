import { describe, expect, test } from 'vitest'
import { type AnyStateMachine, type AnyStateNode, assign, createMachine, setup } from 'xstate'
import { bellMachine } from '../../../machines/bell/machine.ts'
import { EVENTS } from '../../../machines/catalog.ts'
import { cupMachine } from '../../../machines/cup/machine.ts'
import { gunMachine } from '../../../machines/gun/machine.ts'
import { jobMachine } from '../../../machines/job/machine.ts'
import { panelMachine } from '../../../machines/panel/machine.ts'
import { machineFolder } from '../../../machines/replay.ts'
import { SPRAYED, STAGES } from '../../../machines/sheet/schema.ts'
import { vanWith } from '../../support/given.ts'

const FOLDED: readonly [string, AnyStateMachine][] = [
  ['panel', panelMachine],
  ['cup', cupMachine],
  ['gun', gunMachine],
  ['job', jobMachine],
]

/** Every state node of a machine, the root included. */
function nodes(node: AnyStateNode): AnyStateNode[] {
  return [node, ...Object.values(node.states).flatMap((child) => nodes(child as AnyStateNode))]
}
const nodesOf = (machine: AnyStateMachine): AnyStateNode[] => nodes(machine.root)

type Action = { readonly type: string } | string
/** All actions that a node may ask for: on its way in, on its way out, and on its transitions. */
function actionsOf(node: AnyStateNode): Action[] {
  const transitions = [...node.transitions.values(), node.always ?? []].flat()
  return [...node.entry, ...node.exit, ...transitions.flatMap((t) => t.actions)] as Action[]
}
const nameOf = (action: Action): string => (typeof action === 'string' ? action : action.type)

/** What a named action is made of: "xstate.assign" for one that only changes the context. */
function madeOf(machine: AnyStateMachine, action: Action): string {
  const named = machine.implementations.actions[nameOf(action)] as { type?: string } | undefined
  return named?.type ?? nameOf(action)
}

/** What a machine that is folded must not have, as "state: what". */
function faultsOf(machine: AnyStateMachine): string[] {
  return nodesOf(machine).flatMap((node) => [
    ...(node.after.length > 0 ? [`${node.id}: after`] : []),
    ...(node.invoke.length > 0 ? [`${node.id}: invoke`] : []),
    ...(node.type === 'history' ? [`${node.id}: history`] : []),
    ...actionsOf(node)
      .filter((action) => madeOf(machine, action) !== 'xstate.assign')
      .map((action) => `${node.id}: ${nameOf(action)}`),
  ])
}

/** Its chart is read when the first thing is folded. */
const folded = (machine: AnyStateMachine) => machineFolder(machine).can({} as never, {} as never)

describe('a machine that is folded from the log', () => {
  test.each(FOLDED)(
    '%s waits for nothing, calls nothing, remembers nothing, does nothing',
    (_, machine) => {
      expect(nodesOf(machine).length).toBeGreaterThan(3)
      expect(faultsOf(machine)).toEqual([])
    },
  )

  test('differs from one that runs live: the bell waits and emits', () => {
    const faults = faultsOf(bellMachine).map((fault) => fault.split(': ')[1])
    expect(faults).toEqual(expect.arrayContaining(['after', 'play', 'hush']))
  })

  test('differs from one with an invoke or a history state', () => {
    const odd = createMachine({
      initial: 'a',
      states: {
        a: { invoke: { src: 'timer' } },
        b: { initial: 'c', states: { c: {}, h: { type: 'history' } } },
      },
    })
    expect(faultsOf(odd).map((fault) => fault.split(': ')[1])).toEqual(['invoke', 'history'])
  })

  test('that asks for an effect is a bug, and is not folded', () => {
    const loud = setup({ actions: { shout: () => {} } }).createMachine({
      id: 'loud',
      initial: 'a',
      states: { a: { on: { CupMixed: { actions: 'shout' } } } },
    })
    expect(() => folded(loud)).toThrow('machine loud asked for an effect')
    const entering = setup({ actions: { shout: () => {} } }).createMachine({
      id: 'early',
      entry: 'shout',
    })
    expect(() => folded(entering)).toThrow('machine early asked for an effect')
  })

  test('may change its context, and nothing else', () => {
    const quiet = setup({
      types: { context: {} as { n: number } },
      actions: { count: assign({ n: ({ context }) => context.n + 1 }) },
    }).createMachine({ id: 'quiet', context: { n: 0 }, on: { CupMixed: { actions: 'count' } } })
    const folder = machineFolder(quiet)
    const [entry] = vanWith([{ stage: 'clear' }]).entries.filter((e) => e.type === 'CupMixed')
    if (!entry) throw new Error('no cup')
    expect(folder.step(folder.blank, entry).context).toEqual({ n: 1 })
    expect(folder.blank.context).toEqual({ n: 0 })
  })
})

describe('the states of a shop', () => {
  test.each(FOLDED)('%s takes every event that is said to be part of it', (kind, machine) => {
    const own = Object.entries(EVENTS).filter(([, { of }]) =>
      (of as readonly string[]).includes(kind),
    )
    const taken = new Set(machine.events as readonly string[])
    expect(own.map(([type]) => type).filter((type) => !taken.has(type))).toEqual([])
    expect(own.length).toBeGreaterThan(2)
  })

  test('that waits, or leads from one region into another, is not folded', () => {
    const waiting = createMachine({
      id: 'w',
      initial: 'a',
      states: { a: { after: { 9: 'b' } }, b: {} },
    })
    expect(() => folded(waiting)).toThrow('state w.a cannot be folded')
    const crossing = createMachine({
      id: 'x',
      type: 'parallel',
      states: {
        a: { initial: 'one', states: { one: { on: { GO: '#x.b.two' } } } },
        b: { initial: 'one', states: { one: {}, two: {} } },
      },
    })
    expect(() => folded(crossing)).toThrow('an arrow of x.a.one leads out of its region')
  })

  test('a panel has a state for every stage, and five phases in each that is sprayed', () => {
    const route = panelMachine.root.states.route?.states ?? {}
    expect(STAGES.filter((stage) => !(stage in route))).toEqual([])
    const phases = SPRAYED.map((stage) => Object.keys(route[stage]?.states ?? {}).join(' '))
    expect(new Set(phases)).toEqual(new Set(['arriving due between abraded sentBack coating']))
  })

  test('a cup is mixed, then live or stored, then emptied; a gun is clean, loaded, rinsed or dirty', () => {
    const states = (machine: AnyStateMachine) => Object.keys(machine.root.states)
    expect(states(cupMachine)).toEqual(['unmixed', 'live', 'stored', 'emptied'])
    expect(states(gunMachine)).toEqual(['clean', 'loaded', 'rinsed', 'dirty'])
    expect(states(jobMachine)).toEqual(['unknown', 'open', 'paused', 'closed'])
  })
})
