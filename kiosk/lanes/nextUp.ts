import type { Deadline } from '../../machines/bell/deadline.ts'
import { type BellKind, ENDS_IN } from '../../machines/bell/kinds.ts'
import { deadlines } from '../../machines/deadlines.ts'
import { coatsOn, dueStep, type PanelContext } from '../../machines/panel/context.ts'
import { handFrom, workableAt } from '../../machines/panel/filmReady.ts'
import { isJobClosed } from '../../machines/panel/find.ts'
import { isInWork, isPaused, routeState } from '../../machines/panel/where.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { panelName } from '../commands/panelName.ts'
import { countdown } from '../units/format.ts'
import type { Words } from '../words/en.ts'
import { type Moment, momentOf, type Now } from './moment.ts'
import { stepWord } from './stepWord.ts'

/** How far ahead the list of what comes next looks. */
const AHEAD_MS = 4 * 3_600_000
const SHOWN_MOST = 5
/** What rings before an end that is listed itself. */
export const SOON: readonly BellKind[] = ['potNear', 'gunNear', 'windowClosing']

const panelOf = (state: State, id: string): PanelContext | undefined =>
  contextOf(state, 'panel', id)

function about(state: State, { thing, panels }: Upcoming, words: Words): string {
  if (thing.kind === 'cup') return words.board.cup(thing.id.slice(0, 4))
  if (thing.kind === 'gun') return contextOf(state, 'gun', thing.id)?.spec?.name ?? thing.id
  return (panels ?? [thing.id]).map((id) => panelName(state, id)).join(', ')
}

/** What makes a bell meaningless, once that has come. */
const endsIn = (all: readonly Deadline[], { bell, thing, dueAt }: Deadline) =>
  all.find((one) => one.bell === ENDS_IN[bell] && one.thing.id === thing.id && dueAt <= one.dueAt)

const kindWord = ({ bell, mode }: Deadline, words: Words): string =>
  words.bell[bell === 'mayGoToHeat' && mode === 'infrared' ? mode : bell]

/** What rings for, and what it says: what ends soon with the time that is left. @param now kiosk time, UTC ms */
export function bellSaid(state: State, deadline: Deadline, words: Words, now: number) {
  const leftMs = (endsIn(deadlines(state), deadline)?.dueAt ?? 0) - now
  const left = leftMs > 0 && words.bellLeft[deadline.bell]?.(countdown(leftMs))
  return { about: about(state, deadline, words), says: left || kindWord(deadline, words) }
}

/** Work and a coat to come are named by their step, a coat by its number too; all else as its bell says it. */
export function nextLine(state: State, deadline: Coming, words: Words): string {
  const of = about(state, deadline, words)
  const panel = panelOf(state, deadline.thing.id)
  const { stage = null, work = null } = panel?.route[dueStep(panel)] ?? {}
  if (deadline.bell === null)
    return `${of}, ${deadline.isAbraded ? words.after.abrade : stepWord({ stage, work }, words)}`
  if (deadline.bell !== 'coatReady' || !panel || !stage) {
    const ahead = deadline.isDue ? undefined : words.bellAhead[deadline.bell]
    return `${of}: ${ahead ?? kindWord(deadline, words)}`
  }
  const coat = coatsOn(panel, dueStep(panel)) + 1
  return `${of}, ${words.stage[stage]} ${coat}`
}

/** Work by hand whose film is not ready for it yet: it has no bell. `isAbraded`: to open its window, not as a step. */
type FilmWait = Omit<Deadline, 'bell'> & { readonly bell: null; readonly isAbraded?: true }
type Upcoming = Deadline | FilmWait

export type Coming = Upcoming & { readonly isDue: boolean }

/** Films that are to be worked on by hand, until they are ready. */
const filmsOf = (state: State, moment: Moment): FilmWait[] =>
  Object.entries(state.things.panel).flatMap(([id, { context, value }]) => {
    const isAwake = isInWork(routeState(value)) && !isPaused(value)
    const dueAt = isAwake && !isJobClosed(state, context.job) ? handFrom(state, context) : null
    if (dueAt === null || moment.isPast(dueAt)) return []
    return [{ key: `hand:${id}`, bell: null, thing: { kind: 'panel', id }, dueAt }]
  })

/** Films whose shut window asks for paper, until that may go on. */
const shutFilmsOf = (state: State, bells: readonly Deadline[], moment: Moment): FilmWait[] =>
  bells.flatMap(({ bell, dueAt: shutAt, thing }) => {
    const panel = bell === 'windowShut' && moment.isPast(shutAt) && panelOf(state, thing.id)
    const dueAt = panel ? workableAt(state, panel, 'sand') : null
    if (dueAt === null || moment.isPast(dueAt)) return []
    return [{ key: `abrade:${thing.id}`, bell: null, isAbraded: true, thing, dueAt }]
  })

/** What comes next, in order of time: an end is listed once, not also as "soon". */
export function nextUp(state: State, now: Now): Coming[] {
  const moment = momentOf(now)
  const all = deadlines(state)
  const isOver = (one: Deadline) => moment.isPast(endsIn(all, one)?.dueAt ?? Infinity)
  const bells = all.filter((one) => !SOON.includes(one.bell) && !isOver(one))
  return [...bells, ...filmsOf(state, moment), ...shutFilmsOf(state, bells, moment)]
    .sort((a, b) => a.dueAt - b.dueAt)
    .slice(0, SHOWN_MOST)
    .filter(({ dueAt }) => moment.isPast(dueAt - AHEAD_MS + 1))
    .map((deadline) => ({ ...deadline, isDue: moment.isPast(deadline.dueAt) }))
}
