import { describe, expect, test } from 'vitest'
import type { AnyStateMachine, StateValue } from 'xstate'
import { cupMachine } from '../../../machines/cup/machine.ts'
import type { Draft, Json } from '../../../machines/envelope.ts'
import { folders } from '../../../machines/folders.ts'
import { type GunContext, gunMachine } from '../../../machines/gun/machine.ts'
import { jobMachine } from '../../../machines/job/machine.ts'
import type { PanelContext, Step } from '../../../machines/panel/context.ts'
import { dueStep } from '../../../machines/panel/context.ts'
import { panelMachine } from '../../../machines/panel/machine.ts'
import { type Folded, type Folder, machineFolder } from '../../../machines/replay.ts'
import { SPRAYED, type Stage } from '../../../machines/sheet/schema.ts'
import { type Kept, keptOfCup, keptOfJob, keptOfPanel, wrongIn } from '../../support/keptFields.ts'
import { entry, folded, leavesIn, leavesOf, nodesOf, ran, waysOf } from './paths.ts'

const step = (stage: Stage): Step => ({
  stage,
  coats: (SPRAYED as readonly Stage[]).includes(stage) ? { least: 1, planned: 2, most: 3 } : null,
  face: 'whole',
  ...(stage === 'prep' ? {} : { sheet: stage }),
})

const nothing = { air: null, bake: [], infrared: null }

/** What can be said of a panel between its coats, on a route with one sprayed stage. */
function panelAlphabet(stage: Stage): Draft[] {
  const said = { name: 'rear wing', operation: 'repair', zone: 'booth' }
  const added = { ...said, route: [step('prep'), step(stage)] }
  const coat = { kind: 'full', sheet: stage, stage }
  return [
    entry('PanelAdded', added),
    entry('PrepStepDone', { step: 0 }),
    entry('StepSkipped', { step: 1 }),
    entry('CoatStarted', coat, { cup: 'CUP22222' }),
    entry('CoatContinued', {}, { cup: 'CUP33333' }),
    entry('CoatFinished', { ...coat, opens: null }, { cup: 'CUP22222' }),
    entry('CoatInspected', { result: 'matt' }),
    entry('CoverReached', { step: 1 }),
    entry('PanelDenibbed', {}),
    entry('PanelAbraded', { grit: 1000 }),
    entry('PanelSentBack', { toStep: 1, done: 0 }),
  ]
}

/** What else can be said of one: heat, handwork after the paint, pauses, the end. */
function longAlphabet(): Draft[] {
  const route = (['clear', 'sand', 'cure', 'polish'] as const).map(step)
  const said = { name: 'rear wing', operation: 'repair', zone: 'booth', route }
  const coat = { kind: 'full', sheet: 'clear', stage: 'clear' }
  return [
    entry('PanelAdded', said),
    entry('PanelAdded', { ...said, isPaused: true }),
    entry('JobPaused'),
    entry('JobResumed'),
    entry('CoatFinished', { ...coat, opens: null }, { cup: 'CUP22222' }),
    entry('PrepStepDone', { step: 1, grit: 800 }),
    entry('CureStarted', { step: 2, mode: 'air', figures: nothing }),
    entry('PartRead', { partC: 61 }),
    entry('CureEnded', { isComplete: true }),
    entry('CureEnded', { isComplete: false }),
    entry('PanelPolished'),
    entry('PanelPassed'),
    entry('PanelSentBack', { toStep: 0, done: 0 }),
    entry('PanelMoved', { zone: 'bench' }),
    entry('RouteSet', { route: route.slice(0, 2) }),
    entry('PanelRemoved'),
  ]
}

const panelKey = (value: Json, panel: PanelContext) => [
  value,
  dueStep(panel),
  panel.status,
  panel.coats.length,
]

const clock = {
  startMs: 0,
  zone: 'bench',
  interval: { kind: 'notAfter', points: [{ atC: 20, minutes: 60 }] },
}
const contents = { sheet: 'clear', stage: 'clear', totalMl: 600, clocks: [clock], colour: null }
const cupAlphabet = [
  entry('CupMixed', contents, { cup: 'CUP22222' }),
  entry('CupMixed', { ...contents, clocks: [] }),
  entry('CupPoured', { role: 'child', parents: ['CUP33333'], ...contents }),
  entry('CupPoured', { role: 'parent', into: 'CUP44444', ml: 100, isAll: false }),
  entry('CupPoured', { role: 'parent', into: 'CUP44444', ml: 500, isAll: true }),
  entry('CoatStarted', {}, { panel: 'PANEL222' }),
  entry('CoatContinued', {}, { panel: 'PANEL222' }),
  entry('CoatFinished', {}, { panel: 'PANEL222' }),
  entry('GunLoaded'),
  entry('CupLabelPrinted', { untilMs: null, copy: 1 }),
  entry('CupMoved', { zone: 'booth' }),
  entry('CupEmptied', { how: 'used' }),
]

const load = {
  cup: 'CUP22222',
  sheet: 'clear',
  name: 'clear',
  colour: null,
  clocks: [],
  untilMs: null,
}
const gunAlphabet = [
  entry('GunSaved', { name: 'gun 1' }),
  entry('GunLoaded', { load }),
  entry('GunLoaded', { load: { ...load, sheet: 'base' } }),
  entry('CoatStarted', { load }),
  entry('CoatStarted', {}),
  entry('CoatContinued', { load: { ...load, colour: 'C1' } }),
  entry('GunRinsed'),
  entry('GunCleaned'),
]

const jobAlphabet = [
  entry('JobOpened', { title: 'van', colours: [] }),
  entry('JobPaused'),
  entry('JobResumed'),
  entry('JobClosed'),
  entry('JobReopened'),
]

type Walk = {
  readonly name: string
  readonly machine: AnyStateMachine
  readonly ways: readonly (readonly Draft[])[]
  readonly alphabet: readonly Draft[]
}

const ofPanel = (name: string, alphabet: readonly Draft[]): Walk => ({
  name,
  machine: panelMachine,
  alphabet,
  ways: waysOf<PanelContext>(panelMachine, alphabet, panelKey, (p) => p.coats.length > 2),
})

const walks: Walk[] = [
  ...SPRAYED.map((stage) => ofPanel(`panel with ${stage}`, panelAlphabet(stage))),
  ofPanel('panel after its paint', longAlphabet()),
  {
    name: 'cup',
    machine: cupMachine,
    alphabet: cupAlphabet,
    ways: waysOf(cupMachine, cupAlphabet, (value) => value),
  },
  {
    name: 'gun',
    machine: gunMachine,
    alphabet: gunAlphabet,
    ways: waysOf<GunContext>(
      gunMachine,
      gunAlphabet,
      (value, gun) => [value, gun.loads.map((l) => [l.sheet, l.colour])],
      (gun) => gun.loads.length > 2,
    ),
  },
  {
    name: 'job',
    machine: jobMachine,
    alphabet: jobAlphabet,
    ways: waysOf(jobMachine, jobAlphabet, (value) => value),
  },
]

const reached = (of: AnyStateMachine) =>
  new Set(
    walks
      .filter((w) => w.machine === of)
      .flatMap((w) => w.ways.flatMap((way) => leavesIn(ran(of, way).value as StateValue))),
  )

describe('every state that a machine has', () => {
  test.each([
    ['panel', panelMachine as AnyStateMachine],
    ['cup', cupMachine],
    ['gun', gunMachine],
    ['job', jobMachine],
  ])('a %s can come to by entries alone', (_, machine) => {
    expect([...reached(machine)].sort()).toEqual(leavesOf(machine).sort())
  })

  test('no state waits, starts something or remembers by itself', () => {
    for (const { machine } of walks) {
      for (const node of nodesOf(machine)) {
        expect(node.after, node.id).toEqual([])
        expect(node.invoke, node.id).toEqual([])
        expect(node.type, node.id).not.toBe('history')
      }
    }
  })
})

describe('the shortest way to each state', () => {
  test.each(walks.map((w) => [w.name, w] as const))(
    'of a %s ends where the fold of its entries ends',
    (_, { machine, ways }) => {
      expect(ways.length).toBeGreaterThan(2)
      for (const entries of ways) {
        const { value, context } = folded(machine, entries)
        expect({ value, context }).toEqual(ran(machine, entries))
      }
    },
  )

  test.each(walks.map((w) => [w.name, w] as const))(
    'of a %s goes on with any entry: it is taken, or it is noted and changes nothing',
    (_, { machine, ways, alphabet }) => {
      const folder = machineFolder(machine)
      let notTaken = 0
      for (const entries of ways) {
        const there = folded(machine, entries)
        for (const next of alphabet) {
          const after = folder.step(there, next)
          if (after.notTaken.length === there.notTaken.length) continue
          notTaken += 1
          expect(after).toEqual({ ...there, notTaken: [...there.notTaken, next.id] })
        }
      }
      expect(notTaken).toBeGreaterThan(0)
    },
  )

  /** Random days seldom come to the end of a cure, or to a panel that is passed early. */
  test('keeps a coat, a cure and the time of an end exactly in their own states', () => {
    const seen = new Set<string>()
    const amiss: string[][] = []
    const each = <C, V>(
      folder: Folder<C, V>,
      keptOf: (folded: Folded<C, V>) => Kept,
      ways: Walk['ways'],
      alphabet: Walk['alphabet'],
    ): void => {
      for (const way of ways) {
        const there = way.reduce((so, e) => folder.step(so, e), folder.blank)
        for (const next of alphabet) {
          const kept = keptOf(folder.step(there, next))
          const wrong = wrongIn(kept)
          if (wrong.length > 0) amiss.push([...wrong, ...[...way, next].map(({ type }) => type)])
          for (const [field, isSet] of kept) if (isSet) seen.add(field)
        }
      }
    }
    for (const { machine, ways, alphabet } of walks) {
      if (machine === panelMachine) each(folders.panel, keptOfPanel, ways, alphabet)
      if (machine === cupMachine) each(folders.cup, keptOfCup, ways, alphabet)
      if (machine === jobMachine) each(folders.job, keptOfJob, ways, alphabet)
    }
    expect(amiss).toEqual([])
    expect([...seen].sort()).toEqual(['closedAt', 'cure', 'emptiedAt', 'open', 'passedAt'])
  })
})
