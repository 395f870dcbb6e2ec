import type { Deadline } from '../../machines/bell/deadline.ts'
import type { BellKind } from '../../machines/bell/kinds.ts'
import { deadlines } from '../../machines/deadlines.ts'
import { coatsOn, dueStep, type PanelContext } from '../../machines/panel/context.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { panelName } from '../commands/panelName.ts'
import type { Words } from '../words/en.ts'
import { momentOf, type Now } from './moment.ts'

/** How far ahead the list of what comes next looks. */
const AHEAD_MS = 4 * 3_600_000
const SHOWN_MOST = 5
/** What rings before an end that is listed itself. */
const SOON: readonly BellKind[] = ['potNear', 'gunNear', 'windowClosing']

const panelOf = (state: State, id: string): PanelContext | undefined =>
  contextOf(state, 'panel', id)

function about(state: State, { thing, panels }: Deadline): string {
  if (thing.kind === 'cup') return thing.id.slice(0, 4)
  if (thing.kind === 'gun') return contextOf(state, 'gun', thing.id)?.spec?.name ?? thing.id
  return (panels ?? [thing.id]).map((id) => panelName(state, id)).join(', ')
}

/** What a bell says, as a line. */
export const bellLine = (state: State, deadline: Deadline, words: Words): string =>
  words.bell[deadline.bell](about(state, deadline), deadline.mode)

/** A coat to come is named by its stage and number; all else as its bell says it. */
export function nextLine(state: State, deadline: Deadline, words: Words): string {
  const panel = panelOf(state, deadline.thing.id)
  const stage = panel?.route[dueStep(panel)]?.stage
  if (deadline.bell !== 'coatReady' || !panel || !stage) return bellLine(state, deadline, words)
  const coat = coatsOn(panel, dueStep(panel)) + 1
  return `${about(state, deadline)}, ${words.stage[stage]} ${coat}`
}

export type Coming = Deadline & { readonly isDue: boolean }

/** What comes next, in order of time: an end is listed once, not also as "soon". */
export function nextUp(state: State, now: Now): Coming[] {
  const moment = momentOf(now)
  return deadlines(state)
    .filter(({ bell }) => !SOON.includes(bell))
    .slice(0, SHOWN_MOST)
    .filter(({ dueAt }) => moment.isPast(dueAt - AHEAD_MS + 1))
    .map((deadline) => ({ ...deadline, isDue: moment.isPast(deadline.dueAt) }))
}
