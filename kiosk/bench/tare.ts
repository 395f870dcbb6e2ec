import type { Draft } from './draft.ts'

/**
 * A scale that is set to zero between two pours. The amounts poured do not change: only what the scale
 * shows is less by what was in the cup then. Pure.
 */

/** What was in the cup, g, and after how many pours the scale was set to zero. */
export type Tare = { readonly g: number; readonly pours: number }

type Poured = Pick<Draft, 'pours' | 'tares'>

const clean = (g: number) => Number(g.toFixed(3))

/** What the scale does not show of what is in the cup, g. */
export const hiddenG = ({ tares }: Poured): number => tares.at(-1)?.g ?? 0

/** What the scale shows of a figure that counts from the empty cup, g. */
export const shownG = (poured: Poured, g: number): number => clean(g - hiddenG(poured))

/** @param inCupG what is in the cup by what was poured */
export const tared = ({ pours, tares }: Poured, inCupG: number): Pick<Draft, 'tares'> => ({
  tares: [...tares, { g: clean(inCupG), pours: pours.length }],
})

/** Whether the last touch set the scale to zero. */
export const isJustTared = ({ pours, tares }: Poured): boolean =>
  tares.at(-1)?.pours === pours.length

/** Without the last touch: a pour, or the tare that came after it. */
export const withoutLast = (poured: Poured): Partial<Poured> =>
  isJustTared(poured) ? { tares: poured.tares.slice(0, -1) } : { pours: poured.pours.slice(0, -1) }
