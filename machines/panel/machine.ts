import { assign, setup } from 'xstate'
import { isSprayed, SPRAYED, type Stage } from '../sheet/schema.ts'
import { BLANK_PANEL, coatsOn, lastCoat, type PanelContext } from './context.ts'
import type { FactOf, PanelFact } from './events.ts'
import { placeCoat } from './place.ts'
import * as record from './record.ts'

/**
 * A panel's walk along its route. Region `route` stands in the stage that is due, or in what ends
 * the walk; region `attention` says whether its prompts are wanted. Every fact that is taken goes
 * through `routing`, which picks the state from the record: a coat may belong to the step before or
 * to a later one, so the facts, not the state, say where the walk stands.
 */

type Guarded = { context: PanelContext; event: PanelFact }

/** The fact as its own type, or null: a guard is total, it never throws. */
function as<T extends PanelFact['type']>(event: PanelFact, type: T): FactOf<T> | null {
  return event.type === type ? (event as FactOf<T>) : null
}

const HAND_STAGES: readonly Stage[] = ['prep', 'sand', 'polish']
const dueStage = ({ context }: { context: PanelContext }): Stage | undefined =>
  context.route[context.current]?.stage

/** Which child of a sprayed stage the record stands in. */
function phaseOf(context: PanelContext): string {
  if (context.open) return 'coating'
  if (context.wasSentBack) return 'sentBack'
  if (context.abradedAt !== null) return 'abraded'
  return coatsOn(context, context.current) > 0 ? 'between' : 'due'
}

/** The stage that is being sprayed or is due. One more coat is sprayed in its own stage. */
const stageNow = (context: PanelContext): Stage | undefined =>
  context.open ? context.route[context.open.step]?.stage : context.route[context.current]?.stage

const base = setup({
  types: { context: {} as PanelContext, events: {} as PanelFact },
  guards: {
    hasPlace: ({ context, event }: Guarded) => {
      const start = as(event, 'CoatStarted')
      if (start) return record.takesStart(context, start)
      const coat = as(event, 'CoatFinished')
      return coat !== null && placeCoat(context, coat.data) !== null
    },
    hasCoat: ({ context }: Guarded) => lastCoat(context) !== undefined,
    isDueSprayed: ({ context, event }: Guarded) =>
      as(event, 'CoverReached')?.data.step === context.current &&
      isSprayed(dueStage({ context }) ?? 'cure'),
    isOpenHandStep: ({ context, event }: Guarded) => {
      const step = as(event, 'PrepStepDone')?.data.step ?? -1
      const stage = context.route[step]?.stage
      return stage !== undefined && HAND_STAGES.includes(stage) && context.status[step] === 'open'
    },
    isOpenStep: ({ context, event }: Guarded) =>
      context.status[as(event, 'StepSkipped')?.data.step ?? -1] === 'open',
    isCureStep: ({ context, event }: Guarded) =>
      context.route[as(event, 'CureStarted')?.data.step ?? -1]?.stage === 'cure',
    isStep: ({ context, event }: Guarded) =>
      context.route[as(event, 'PanelSentBack')?.data.toStep ?? -1] !== undefined,
    isBornPaused: ({ event }: Guarded) => as(event, 'PanelAdded')?.data.isPaused === true,
    isRemoved: ({ context }: Guarded) => context.removedAt !== null,
    isPassed: ({ context }: Guarded) => context.passedAt !== null,
    isCuring: ({ context }: Guarded) => context.cure !== null,
    isStage: ({ context }: Guarded, { stage }: { stage: Stage }) => stageNow(context) === stage,
    isPhase: ({ context }: Guarded, { stage, phase }: { stage: Stage; phase: string }) =>
      stageNow(context) === stage && phaseOf(context) === phase,
  },
  actions: {
    record: assign(({ context, event }) => recorded(context, event)),
  },
})

function recorded(panel: PanelContext, fact: PanelFact): PanelContext {
  switch (fact.type) {
    case 'PanelAdded':
      return record.added(fact, BLANK_PANEL)
    case 'PanelMoved':
      return record.moved(panel, fact)
    case 'PanelRemoved':
      return { ...panel, open: null, removedAt: fact.at }
    case 'RouteSet':
      return record.rerouted(panel, fact)
    case 'PrepStepDone':
      return record.prepDone(panel, fact)
    case 'StepSkipped':
      return record.skipped(panel, fact)
    case 'CoatStarted':
      return record.started(panel, fact)
    case 'CoatContinued':
      return record.continued(panel, fact)
    case 'CoatFinished':
      return record.finished(panel, fact)
    case 'CoatInspected':
      return record.inspected(panel, fact)
    case 'CoverReached':
      return record.covered(panel, fact)
    case 'PanelAbraded':
      return record.abraded(panel, fact)
    case 'CureStarted':
      return record.cureStarted(panel, fact)
    case 'PartRead':
      return record.partRead(panel, fact)
    case 'CureEnded':
      return record.cureEnded(panel, fact)
    case 'PanelPolished':
      return record.polished(panel)
    case 'PanelPassed':
      return record.passed(panel, fact)
    case 'PanelSentBack':
      return record.sentBack(panel, fact)
    case 'JobPaused':
    case 'JobResumed':
      return panel
  }
}

const take = { target: '#panel.route.routing', actions: 'record' } as const
const when = <G extends string>(guard: G) => ({ ...take, guard }) as const

/** Taken wherever the panel is in work. */
const anywhere = { PanelMoved: take, PartRead: take, PanelRemoved: take } as const
const waiting = {
  ...anywhere,
  CoatStarted: when('hasPlace'),
  CoatFinished: when('hasPlace'),
  CoatInspected: when('hasCoat'),
  CoverReached: when('isDueSprayed'),
  PanelAbraded: take,
  PrepStepDone: when('isOpenHandStep'),
  StepSkipped: when('isOpenStep'),
  CureStarted: when('isCureStep'),
  PanelPolished: take,
  PanelPassed: take,
  PanelSentBack: when('isStep'),
  RouteSet: take,
} as const
/** A second start of an open coat is not taken: it counts once. */
const coating = { ...anywhere, CoatFinished: take, CoatContinued: take } as const
const curing = {
  ...anywhere,
  CureEnded: take,
  PanelPassed: take,
  CoatStarted: when('hasPlace'),
  CoatFinished: when('hasPlace'),
  CoatInspected: when('hasCoat'),
  PanelSentBack: when('isStep'),
} as const
/** Passed is not out of sight: a defect is seen and sanded first, then the panel is sent back. */
const over = {
  ...anywhere,
  CoatInspected: when('hasCoat'),
  PanelAbraded: take,
  PanelPolished: take,
  PanelSentBack: when('isStep'),
} as const

const spray = {
  initial: 'due',
  states: {
    due: { on: waiting },
    coating: { on: coating },
    between: { on: waiting },
    abraded: { on: waiting },
    sentBack: { on: waiting },
  },
} as const
const PHASES = ['coating', 'sentBack', 'abraded', 'between', 'due'] as const

const toSprayed = SPRAYED.flatMap((stage) =>
  PHASES.map(
    (phase) =>
      ({
        guard: { type: 'isPhase', params: { stage, phase } },
        target: `${stage}.${phase}`,
      }) as const,
  ),
)
const toOther = (['prep', 'sand', 'polish', 'cure'] as const).map(
  (stage) => ({ guard: { type: 'isStage', params: { stage } }, target: stage }) as const,
)

export const panelMachine = base.createMachine({
  id: 'panel',
  type: 'parallel',
  context: BLANK_PANEL,
  states: {
    route: {
      initial: 'unknown',
      states: {
        unknown: { on: { PanelAdded: take } },
        routing: {
          always: [
            { guard: 'isRemoved', target: 'removed' },
            { guard: 'isPassed', target: 'passed' },
            { guard: 'isCuring', target: 'cure.running' },
            ...toSprayed,
            ...toOther,
            { target: 'finished' },
          ],
        },
        prep: { on: waiting },
        'adhesion-promoter': spray,
        primer: spray,
        sealer: spray,
        base: spray,
        midcoat: spray,
        clear: spray,
        'single-stage': spray,
        cure: { initial: 'due', states: { due: { on: waiting }, running: { on: curing } } },
        sand: { on: waiting },
        polish: { on: waiting },
        finished: { on: waiting },
        passed: { on: over },
        removed: {},
      },
    },
    attention: {
      initial: 'awake',
      states: {
        awake: {
          on: { JobPaused: 'paused', PanelAdded: { guard: 'isBornPaused', target: 'paused' } },
        },
        paused: { on: { JobResumed: 'awake' } },
      },
    },
  },
})

/** Where the walk stands, as a dotted path such as "clear.between". */
export function routeState(value: unknown): string {
  const route = (value as { route: string | Record<string, string> }).route
  if (typeof route === 'string') return route
  const [stage, phase] = Object.entries(route)[0] ?? ['unknown', '']
  return `${stage}.${phase}`
}

export const isPaused = (value: unknown): boolean =>
  (value as { attention: string }).attention === 'paused'
