import { dueStep, lastCoat, type PanelContext, type Step } from '../../machines/panel/context.ts'
import { problemsAhead, type RouteProblem } from '../../machines/plan/routeProblems.ts'
import { isSprayed } from '../../machines/sheet/schema.ts'
import type { State } from '../../machines/state.ts'

/** The first step of a panel's route that no work can end. Pure. */
export type NoWay = {
  readonly code: RouteProblem['code']
  /** Its index in the route. */
  readonly at: number
  readonly isDue: boolean
}

export function noWayOf(state: State, panel: PanelContext): NoWay | null {
  const [first] = problemsAhead(state, panel)
  return first ? { code: first.code, at: first.at, isDue: first.at === dueStep(panel) } : null
}

/** The product of a step; where work on what is on is done, that of the last coat. */
export function sheetOfStep(panel: PanelContext, step: Step | undefined): string | null {
  if (step?.sheet !== undefined) return step.sheet
  return step && isSprayed(step.stage) ? null : (lastCoat(panel)?.opens?.sheet ?? null)
}
