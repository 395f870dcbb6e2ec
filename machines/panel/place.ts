import { isSprayed, type Stage } from '../sheet/schema.ts'
import { coatsOn, dueStep, lastCoat, type PanelContext } from './context.ts'

/** What a coat says of itself: the step if it was named, the product if the cup is known. */
export type CoatClaim = {
  readonly step?: number | undefined
  readonly sheet: string | null
  readonly stage: Stage | null
}

/** The colors of steps that a cup is, by their keys; null stands for a step that names none. */
export type Fits = readonly (string | null)[]

/** Where a coat goes: its step, and the open steps before it that are thereby skipped. */
export type Place = {
  readonly step: number
  readonly skipped: readonly number[]
  readonly isOneMore: boolean
}

function fits(panel: PanelContext, index: number, claim: CoatClaim): boolean {
  const step = panel.route[index]
  if (!step || !isSprayed(step.stage)) return false
  if (claim.sheet === null) return true
  return step.sheet === undefined ? step.stage === claim.stage : step.sheet === claim.sheet
}

/** The step of a coat that has to go on again where the film was taken down. */
export function againAt(panel: PanelContext, claim: CoatClaim): number | null {
  const [wanted] = panel.wants
  const last = panel.route.findLastIndex(
    (step, i) => step.stage === wanted && i < dueStep(panel) && fits(panel, i, claim),
  )
  return last === -1 ? null : last
}

const openBetween = (panel: PanelContext, from: number, to: number): number[] =>
  panel.status.flatMap((s, i) => (i >= from && i < to && s === 'open' ? [i] : []))

/**
 * The step that a coat belongs to. Without a named step the next one is meant, unless the cup fits
 * only the step just finished: then it is one more. A cup for a later step goes to the next one
 * with its product, and the steps between are skipped.
 * @returns null when the route has no step for it: such a coat is recorded and moves nothing
 */
export function placeCoat(panel: PanelContext, claim: CoatClaim): Place | null {
  const { route } = panel
  const current = dueStep(panel)
  if (claim.step !== undefined) {
    const step = route[claim.step]
    if (!step || !isSprayed(step.stage)) return null
    return {
      step: claim.step,
      skipped: openBetween(panel, current, claim.step),
      isOneMore: claim.step < current,
    }
  }
  if (fits(panel, current, claim)) return { step: current, skipped: [], isOneMore: false }
  const last = lastCoat(panel)?.step
  if (last !== undefined && last < current && fits(panel, last, claim)) {
    return { step: last, skipped: [], isOneMore: true }
  }
  const again = againAt(panel, claim)
  if (again !== null) return { step: again, skipped: [], isOneMore: true }
  for (let i = current + 1; i < route.length; i += 1) {
    if (fits(panel, i, claim)) {
      return { step: i, skipped: openBetween(panel, current, i), isOneMore: false }
    }
  }
  return null
}

/**
 * The step to come that a cup's color is for, where its coat would be one more of a step of another color:
 * the second tone before it was masked.
 * @returns undefined where the coat belongs where its product alone says
 */
export function stepOfColour(
  panel: PanelContext,
  claim: CoatClaim,
  ofCup: Fits,
): number | undefined {
  const isItsColour = (colour: string | undefined) => ofCup.includes(colour ?? null)
  const place = claim.step === undefined ? placeCoat(panel, claim) : null
  if (!place?.isOneMore || isItsColour(panel.route[place.step]?.colour)) return undefined
  const own = panel.route.findIndex(
    (step, i) =>
      i > place.step &&
      panel.status[i] === 'open' &&
      fits(panel, i, claim) &&
      isItsColour(step.colour),
  )
  return own === -1 ? undefined : own
}

/**
 * The step that a cure belongs to: the next cure that is still open.
 * @returns -1 when the route has none left
 */
export const placeCure = (panel: PanelContext): number =>
  panel.route.findIndex(
    (s, i) => s.stage === 'cure' && panel.status[i] === 'open' && i >= dueStep(panel),
  )

/**
 * The step that COVERED, GO ON is said of: the one that is due, of which coats are on. Said once more when that is
 * done, it says nothing of the next step, which has no coat yet.
 * @param isForced with a reason, it is said of a step without a coat
 */
export function coveredStep(panel: PanelContext, isForced: boolean): number {
  const due = dueStep(panel)
  const last = lastCoat(panel)?.step
  return isForced || last === undefined || coatsOn(panel, due) > 0 ? due : last
}
