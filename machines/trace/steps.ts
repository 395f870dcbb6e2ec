import type { CoatTold, PanelTold } from './record.ts'

/** Stages of what lies under the color. */
export const UNDER: readonly (string | null)[] = ['adhesion-promoter', 'primer', 'sealer']

/** The coats of a step of a route. */
export type StepCoats = {
  readonly step: number
  readonly first: CoatTold
  readonly last: CoatTold
  readonly all: readonly CoatTold[]
}

/** A panel's coats, step by step in the order in which each was begun. */
export function stepsOf({ coats }: Pick<PanelTold, 'coats'>): StepCoats[] {
  const by = new Map<number, CoatTold[]>()
  for (const coat of coats) by.set(coat.step, [...(by.get(coat.step) ?? []), coat])
  return [...by].flatMap(([step, all]) => {
    const [first, last] = [all[0], all.at(-1)]
    return first && last ? [{ step, first, last, all }] : []
  })
}
