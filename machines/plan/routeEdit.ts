import type { RouteStep } from '../commands.ts'
import { coatsOn, type PanelContext, type Step, type Work } from '../panel/context.ts'
import { coatsOf } from '../panel/setup.ts'
import { type Coats, isSprayed, type Sheet, type Stage } from '../sheet/schema.ts'

/** A route changed step by step, as SetRoute takes it. Every function gives a new route. */

type Route = readonly RouteStep[]

const COATS_MOST = 20

/** A panel's route as it may be sent back: coats as they were resolved, nulls left out. */
export const routeOf = (route: readonly Step[]): RouteStep[] =>
  route.map(({ coats, ...step }) => ({ ...step, ...(coats === null ? {} : { coats }) }))

/** The number of steps at the start that stay where they are: the last of them has work on it. */
export function fixedSteps(panel: PanelContext): number {
  const isWorked = (i: number) =>
    panel.status[i] === 'done' || panel.open?.step === i || coatsOn(panel, i) > 0
  return panel.route.findLastIndex((_, i) => isWorked(i)) + 1
}

/** A step moved by one place; the unchanged route where it cannot move. */
export function movedStep(route: Route, at: number, by: -1 | 1): Route {
  const [a, b] = [route[at], route[at + by]]
  return a && b ? route.with(at, b).with(at + by, a) : route
}

export const withoutStep = (route: Route, at: number): Route => route.toSpliced(at, 1)

/**
 * A new step, with the first sheet of its stage.
 * @param color the key of the job's color, for stages that carry one
 */
export function withStep(
  route: Route,
  at: number,
  stage: Stage,
  sheets: readonly Sheet[],
  colour?: string,
): Route {
  const sheet = stage === 'cure' ? sheetBefore(route, at) : sheetsFor(stage, sheets)[0]?.sheet
  const isColoured = colour !== undefined && carriesColour(stage)
  const step: RouteStep = {
    stage,
    face: 'whole',
    ...(sheet === undefined ? {} : { sheet }),
    ...(isColoured ? { colour } : {}),
  }
  return route.toSpliced(at, 0, step)
}

/** What a cure cures: the product sprayed last before it. */
const sheetBefore = (route: Route, at: number): string | undefined =>
  route.findLast((step, i) => i < at && isSprayed(step.stage))?.sheet

/** The sheets that a step of a stage may name. */
export const sheetsFor = (stage: Stage, sheets: readonly Sheet[]): Sheet[] =>
  sheets.filter((sheet) => sheet.stage === stage)

export const carriesColour = (stage: Stage): boolean =>
  stage === 'base' || stage === 'midcoat' || stage === 'single-stage'

/** A step with another sheet: its coats are again those of the sheet. */
export function withSheet(route: Route, at: number, sheet: string): Route {
  const { coats: _, ...step } = route[at] as RouteStep
  return route.with(at, { ...step, sheet })
}

export const withColour = (route: Route, at: number, colour: string): Route =>
  route.with(at, { ...(route[at] as RouteStep), colour })

export const withFace = (route: Route, at: number, face: RouteStep['face']): Route =>
  route.with(at, { ...(route[at] as RouteStep), face })

/** A step of preparation that says what is done in it; said again, it says nothing. */
export function withWork(route: Route, at: number, work: Work): Route {
  const { work: before, ...step } = route[at] as RouteStep
  return route.with(at, work === before ? step : { ...step, work })
}

/** The coats that a step will have: its own, else those of its sheet; null for a step without a gun. */
export const coatsOfStep = (step: RouteStep, sheets: readonly Sheet[]): Coats | null =>
  coatsOf(step, sheets.find((sheet) => sheet.sheet === step.sheet)?.coats)

/** One of the three numbers changed by one; the others follow, so that least ≤ planned ≤ most stays true. */
export function nudgedCoats(coats: Coats, which: keyof Coats, by: -1 | 1): Coats {
  const value = Math.min(COATS_MOST, Math.max(1, coats[which] + by))
  const next = { ...coats, [which]: value }
  if (which === 'planned') {
    return { ...next, least: Math.min(next.least, value), most: Math.max(next.most, value) }
  }
  if (which === 'least') {
    return { ...next, planned: Math.max(next.planned, value), most: Math.max(next.most, value) }
  }
  return { ...next, planned: Math.min(next.planned, value), least: Math.min(next.least, value) }
}

export const withCoats = (route: Route, at: number, coats: Coats): Route =>
  route.with(at, { ...(route[at] as RouteStep), coats })
