import type { JobContext } from '../../machines/job/machine.ts'
import {
  type CureMode,
  coatsOn,
  dueStep,
  lastCoat,
  type PanelContext,
  type Step,
} from '../../machines/panel/context.ts'
import { LATEST } from '../../machines/panel/gate.ts'
import { isCoating, type PanelState, routeState, stageIn } from '../../machines/panel/where.ts'
import { sheetAt } from '../../machines/sheet/fold.ts'
import type { Stage } from '../../machines/sheet/schema.ts'
import { contextOf, type State } from '../../machines/state.ts'

/** What the pages of a job show of its panels. Pure, from the folded state. */

export type PanelView = {
  readonly id: string
  readonly panel: PanelContext
  /** The state of its walk: "clear.between", "passed". */
  readonly where: PanelState
}

/** The panels of a job that were not taken out of it, in the order in which they came. */
export const panelsOf = (state: State, job: string): PanelView[] =>
  Object.entries(state.things.panel)
    .map(([id, thing]) => ({
      id,
      panel: thing.context,
      where: routeState(thing.value),
    }))
    .filter(({ panel, where }) => panel.job === job && !['unknown', 'removed'].includes(where))

/** Whether a panel was taken out of this job. */
export function isRemoved(state: State, id: string, job: string): boolean {
  const thing = state.things.panel[id]
  return thing?.context.job === job && routeState(thing.value) === 'removed'
}

export type StepView = {
  readonly index: number
  readonly step: Step
  readonly status: 'done' | 'skipped' | 'now' | 'open'
  readonly coatsOn: number
}

export const stepsOf = ({ panel, where }: PanelView): StepView[] =>
  panel.route.map((step, index) => {
    const isNow = index === (panel.open?.step ?? dueStep(panel)) && where !== 'passed'
    const status = isNow ? 'now' : (panel.status[index] ?? 'open')
    return { index, step, status, coatsOn: coatsOn(panel, index) }
  })

type HandStep = { readonly panel: string; readonly step: number }

/** The steps of one hand stage that are due now, one after the other. */
function dueSteps({ id, panel, where }: PanelView, stage: Stage): HandStep[] {
  if (stageIn(where) !== stage) return []
  const due: HandStep[] = []
  for (let step = dueStep(panel); panel.route[step]?.stage === stage; step += 1) {
    if (panel.status[step] === 'open') due.push({ panel: id, step })
  }
  return due
}

/** All preparation that is due now, of one panel or of a whole job: one touch says that it is done. */
export const prepDue = (panels: readonly PanelView[]): HandStep[] =>
  panels.flatMap((view) => dueSteps(view, 'prep'))

/** The polishing that is due now, of a whole job. */
export const polishDue = (panels: readonly PanelView[]): { readonly panel: string }[] =>
  panels.filter(({ where }) => stageIn(where) === 'polish').map(({ id }) => ({ panel: id }))

/** The sanding that is due now, of a whole job: one step of each panel. */
export const sandDue = (panels: readonly PanelView[]): HandStep[] =>
  panels.flatMap((view) => dueSteps(view, 'sand').slice(0, 1))

/** The cures that the product on a panel knows: as its last coat opened them, else by its sheet. */
export function cureModes(state: State, panel: PanelContext): CureMode[] {
  const opened = lastCoat(panel)?.opens?.cure
  const step = panel.route.find((s, i) => s.stage === 'cure' && panel.status[i] === 'open')
  const sheet = sheetAt(state, step?.sheet, LATEST)?.sheet.cure
  const has = opened ?? sheet
  if (!has) return []
  return [
    ...(has.bake && has.bake.length > 0 ? (['bake'] as const) : []),
    ...(has.infrared ? (['infrared'] as const) : []),
    ...(has.air ? (['air'] as const) : []),
  ]
}

/** Whether a cure is what a panel waits for: it is the step that is due. */
export const isCureDue = ({ where }: PanelView): boolean => where === 'cure.due'
export const isCuring = ({ where }: PanelView): boolean => where === 'cure.running'

/** Whether steps may be skipped and the route changed: nothing runs on the panel, and it has not passed. */
export const mayChange = (view: PanelView): boolean =>
  view.where !== 'passed' && !isCoating(view.where) && !isCuring(view)

/** The steps that a panel can be sent back to, the nearest first. */
export function backSteps(panel: PanelContext): number[] {
  const last = Math.min(dueStep(panel), panel.route.length - 1)
  return Array.from({ length: last + 1 }, (_, i) => last - i)
}

/** Whether the job's clocks or bells want somebody: closing it then is held, not touched. */
export const isAsked = (
  dues: readonly { readonly job?: string; readonly dueAt: number }[],
  job: string,
  now: number,
): boolean => dues.some((due) => due.job === job && due.dueAt <= now)

export const jobOf = (state: State, job: string): JobContext | undefined =>
  state.things.job[job]?.value === 'unknown' ? undefined : contextOf(state, 'job', job)

/** Open jobs first, in the order in which they were opened; then those closed lately, the last first. */
export function jobsOf(state: State): {
  readonly open: readonly {
    readonly id: string
    readonly job: JobContext
    readonly isPaused: boolean
  }[]
  readonly closed: readonly { readonly id: string; readonly job: JobContext }[]
} {
  const all = Object.entries(state.things.job)
    .filter(([, thing]) => thing.value !== 'unknown')
    .map(([id, thing]) => ({ id, job: thing.context, value: thing.value }))
  return {
    open: all
      .filter(({ value }) => value !== 'closed')
      .sort((a, b) => a.job.openedAt - b.job.openedAt)
      .map(({ id, job, value }) => ({ id, job, isPaused: value === 'paused' })),
    closed: all
      .filter(({ value }) => value === 'closed')
      .sort((a, b) => (b.job.closedAt ?? 0) - (a.job.closedAt ?? 0))
      .map(({ id, job }) => ({ id, job })),
  }
}
