import { ID_ALPHABET } from '../../machines/accept.ts'
import type { CupContext } from '../../machines/cup/machine.ts'
import type { PanelContext } from '../../machines/panel/context.ts'
import { dueStep } from '../../machines/panel/context.ts'
import { routeState } from '../../machines/panel/where.ts'
import type { State } from '../../machines/state.ts'

/** What somebody sees who looks at the Wall of a random shop. */

export type SeenPanel = {
  readonly id: string
  readonly panel: PanelContext
  readonly where: string
}
export type SeenCup = { readonly id: string; readonly cup: CupContext; readonly value: unknown }

export const seenPanels = (state: State): SeenPanel[] =>
  Object.entries(state.things.panel)
    .map(([id, t]) => ({ id, panel: t.context, where: routeState(t.value) }))
    .filter((p) => p.where !== 'unknown')

const isClosed = (state: State, job: string) => state.things.job[job]?.value === 'closed'

/** Panels that somebody may still work on. */
export const openPanels = (state: State): SeenPanel[] =>
  seenPanels(state).filter((p) => p.where !== 'removed' && !isClosed(state, p.panel.job))

export const seenCups = (state: State): SeenCup[] =>
  Object.entries(state.things.cup)
    .map(([id, t]) => ({ id, cup: t.context, value: t.value }))
    .filter((c) => c.value !== 'unmixed')

export const fullCups = (state: State): SeenCup[] =>
  seenCups(state).filter((c) => c.cup.emptiedAt === null)

export const stepDue = ({ panel }: SeenPanel) => panel.route[dueStep(panel)]

/** An id as a sender makes it: a letter and a count. */
export function idOf(letter: string, count: number): string {
  let id = ''
  for (let n = count; id.length < 7; n = Math.floor(n / ID_ALPHABET.length)) {
    id = (ID_ALPHABET[n % ID_ALPHABET.length] as string) + id
  }
  return letter + id
}
