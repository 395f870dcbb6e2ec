import { assign, setup } from 'xstate'
import { madeWhenAsked } from '../madeWhenAsked.ts'
import { isSprayed, SPRAYED, type Stage } from '../sheet/schema.ts'
import {
  BLANK_PANEL,
  coatsOn,
  coversStart,
  dueStep,
  isSaidAlready,
  lastCoat,
  type PanelContext,
} from './context.ts'
import type { FactOf, PanelFact } from './events.ts'
import { withHeat } from './pastHeat.ts'
import { placeCoat } from './place.ts'
import * as record from './record.ts'
import { sentBack as withSentBack } from './sentBack.ts'

/**
 * A panel's walk along its route. The state of region `route` is the stage that is due and its
 * phase; region `attention` says whether the panel's prompts are on. What may follow what is defined
 * here and nowhere else: decide asks whether a fact is taken, everything else reads the state. The
 * next stage is in the panel's own route, so an arrow that ends a step leads to a crossing (`next`,
 * `back`, `spraying`), from which the route gives the way.
 */

type Guarded = { context: PanelContext; event: PanelFact }
type OfStage = { stage: Stage }

/** The fact as its own type, or null: a guard is total, it never throws. */
function as<T extends PanelFact['type']>(event: PanelFact, type: T): FactOf<T> | null {
  return event.type === type ? (event as FactOf<T>) : null
}

const HAND_STAGES: readonly Stage[] = ['prep', 'sand', 'polish']
const stageOf = (panel: PanelContext, step: number | undefined): Stage | undefined =>
  panel.route[step ?? -1]?.stage

const base = setup({
  types: { context: {} as PanelContext, events: {} as PanelFact },
  guards: {
    hasPlace: ({ context, event }: Guarded) => {
      const coat = as(event, 'CoatStarted') ?? as(event, 'CoatFinished')
      return coat !== null && placeCoat(context, coat.data) !== null
    },
    /** A second start of a coat whose finish was spread to before it: it counts once. */
    isSaidOfLast: ({ context, event }: Guarded) => coversStart(lastCoat(context), event.at),
    /** The finish of a coat whose earlier finish came later: it is the same one. */
    isSaidAlready: ({ context, event }: Guarded) => {
      const finish = as(event, 'CoatFinished')
      const { sprayMs } = finish?.data ?? {}
      return (
        sprayMs !== undefined &&
        isSaidAlready(context, finish?.data ?? {}, event.cup, event.at, sprayMs)
      )
    },
    hasCoat: ({ context }: Guarded) => lastCoat(context) !== undefined,
    isDueSprayed: ({ context, event }: Guarded) => {
      const step = as(event, 'CoverReached')?.data.step
      return step === dueStep(context) && isSprayed(stageOf(context, step) ?? 'cure')
    },
    isOpenHandStep: ({ context, event }: Guarded) => {
      const step = as(event, 'PrepStepDone')?.data.step
      const stage = stageOf(context, step)
      return (
        stage !== undefined && HAND_STAGES.includes(stage) && context.status[step ?? -1] === 'open'
      )
    },
    isOpenStep: ({ context, event }: Guarded) =>
      context.status[as(event, 'StepSkipped')?.data.step ?? -1] === 'open',
    isCureStep: ({ context, event }: Guarded) =>
      stageOf(context, as(event, 'CureStarted')?.data.step) === 'cure',
    isStep: ({ context, event }: Guarded) =>
      stageOf(context, as(event, 'PanelSentBack')?.data.toStep) !== undefined,
    isBornPaused: ({ event }: Guarded) => as(event, 'PanelAdded')?.data.isPaused === true,
    isDue: ({ context }: Guarded, { stage }: OfStage) =>
      stageOf(context, dueStep(context)) === stage,
    isSpraying: ({ context }: Guarded, { stage }: OfStage) =>
      stageOf(context, context.open?.step) === stage,
    isAbraded: ({ context }: Guarded) => context.abradedAt !== null,
    isBegun: ({ context }: Guarded) => coatsOn(context, dueStep(context)) > 0,
  },
  actions: {
    record: assign(({ context, event }) => withHeat(context, recorded(context, event), event.at)),
  },
})

function recorded(panel: PanelContext, fact: PanelFact): PanelContext {
  switch (fact.type) {
    case 'PanelAdded':
      return record.added(fact, BLANK_PANEL)
    case 'PanelMoved':
      return record.moved(panel, fact)
    case 'PanelRemoved':
      return record.removed(panel)
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
    case 'CoatBrokenOff':
      return record.brokenOff(panel, fact)
    case 'FilmRead':
      return record.filmRead(panel, fact)
    case 'CoatInspected':
      return record.inspected(panel, fact)
    case 'CoverReached':
      return record.covered(panel, fact)
    case 'PanelAbraded':
      return record.abraded(panel, fact)
    case 'PanelDenibbed':
      return record.denibbed(panel, fact)
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
      return withSentBack(panel, fact)
    case 'JobPaused':
    case 'JobResumed':
      return panel
  }
}

/** Recorded, and the panel stays in its state. */
const noted = { actions: 'record' } as const
/** Recorded, and the route gives the next state. */
const onwards = { target: '#panel.route.next', actions: 'record' } as const
const to = <T extends string>(target: T) =>
  ({ target: `#panel.route.${target}`, actions: 'record' }) as const
const when = <G extends string, A extends object>(guard: G, arrow: A) =>
  ({ ...arrow, guard }) as const

/** Taken in every state in which the panel is in progress. */
const anywhere = {
  PanelMoved: noted,
  PartRead: noted,
  FilmRead: noted,
  PanelRemoved: to('removed'),
} as const
const sentBack = when('isStep', to('back'))
const seen = when('hasCoat', noted)

/** A coat that begins, or one that is only reported when it is on. */
const coats = {
  CoatStarted: [when('isSaidOfLast', {}), when('hasPlace', to('spraying'))],
  CoatFinished: [when('isSaidAlready', {}), when('hasPlace', onwards)],
} as const

/** A stage that is due, of whatever kind. */
const due = {
  ...anywhere,
  ...coats,
  CoatInspected: seen,
  PanelAbraded: noted,
  PanelDenibbed: seen,
  PrepStepDone: when('isOpenHandStep', onwards),
  StepSkipped: when('isOpenStep', onwards),
  CureStarted: when('isCureStep', to('cure.running')),
  PanelPolished: noted,
  PanelPassed: to('passed'),
  PanelSentBack: sentBack,
  RouteSet: onwards,
} as const

const sprayDue = {
  ...due,
  CoverReached: when('isDueSprayed', onwards),
  PanelAbraded: { target: 'abraded', actions: 'record' },
} as const

/** A stage that is sprayed. Its phases say what the next coat comes over. */
const spray = {
  initial: 'arriving',
  states: {
    arriving: {
      always: [
        { guard: 'isAbraded', target: 'abraded' },
        { guard: 'isBegun', target: 'between' },
        { target: 'due' },
      ],
    },
    due: { on: sprayDue },
    between: { on: sprayDue },
    abraded: { on: sprayDue },
    sentBack: { on: sprayDue },
    /** A second start of a running coat is not taken: it counts once. */
    coating: {
      on: { ...anywhere, CoatFinished: onwards, CoatBrokenOff: onwards, CoatContinued: noted },
    },
  },
} as const

const OTHER = ['prep', 'sand', 'polish', 'cure'] as const
const isDue = <S extends Stage>(stage: S) => ({ type: 'isDue', params: { stage } }) as const
const toOther = OTHER.map((stage) => ({ guard: isDue(stage), target: stage }) as const)

export const panelMachine = madeWhenAsked(() =>
  base.createMachine({
    id: 'panel',
    type: 'parallel',
    context: BLANK_PANEL,
    states: {
      route: {
        initial: 'unknown',
        states: {
          unknown: { on: { PanelAdded: onwards } },
          next: {
            always: [
              ...SPRAYED.map((stage) => ({ guard: isDue(stage), target: stage }) as const),
              ...toOther,
              { target: 'finished' },
            ],
          },
          back: {
            always: [
              ...SPRAYED.map(
                (stage) => ({ guard: isDue(stage), target: `${stage}.sentBack` }) as const,
              ),
              ...toOther,
              { target: 'finished' },
            ],
          },
          spraying: {
            always: SPRAYED.map(
              (stage) =>
                ({
                  guard: { type: 'isSpraying', params: { stage } },
                  target: `${stage}.coating`,
                }) as const,
            ),
          },
          prep: { on: due },
          'adhesion-promoter': spray,
          primer: spray,
          sealer: spray,
          blender: spray,
          base: spray,
          midcoat: spray,
          clear: spray,
          'single-stage': spray,
          cure: {
            initial: 'due',
            states: {
              due: { on: due },
              running: {
                on: {
                  ...anywhere,
                  ...coats,
                  CoatInspected: seen,
                  CureEnded: onwards,
                  PanelPassed: to('passed'),
                  PanelSentBack: sentBack,
                },
              },
            },
          },
          sand: { on: due },
          polish: { on: { ...due, PanelPolished: onwards } },
          finished: { on: due },
          /** Still in sight: a defect is found and sanded first, then the panel is sent back. */
          passed: {
            on: {
              ...anywhere,
              CoatInspected: seen,
              PanelDenibbed: seen,
              PanelAbraded: noted,
              PanelPolished: noted,
              PanelSentBack: sentBack,
            },
          },
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
  }),
)
