import type { Operation } from '../panel/context.ts'
import { type BodyType, neighbors } from '../trade/panels.ts'

/** A panel of a body that is chosen for a job, by its id on the body. */
export type ChosenPanel = { readonly id: string; readonly operation: Operation }

/** Operations whose color ends at the panel's edge, where an eye sees a difference. */
export const COLOURED: readonly Operation[] = ['new-part', 'repair']

/**
 * Panels to propose for blending: those next to a panel that gets full color. General trade practice,
 * no source: a proposal, the painter compares the color and decides.
 * @returns ids in the body's own order, without those that are chosen already
 */
export function blendProposals(of: BodyType, chosen: readonly ChosenPanel[]): string[] {
  const isChosen = (id: string) => chosen.some((one) => one.id === id)
  const beside = chosen
    .filter(({ operation }) => COLOURED.includes(operation))
    .flatMap(({ id }) => neighbors(of, id))
  return of.panels.map(({ id }) => id).filter((id) => beside.includes(id) && !isChosen(id))
}
