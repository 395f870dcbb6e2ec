import { type Deciding, knownIds, thingThen, unknown } from '../deciding.ts'
import { folders } from '../folders.ts'
import type { Problem } from '../refusals.ts'
import { type State, thingOf } from '../state.ts'
import type { Thing } from '../things.ts'
import { BLANK_PANEL, type PanelContext } from './context.ts'
import { type PanelState, routeState } from './where.ts'

export type FoundPanel = {
  readonly id: string
  readonly panel: PanelContext
  readonly where: PanelState
  /** The panel at that time: its chart decides from this state. */
  readonly thing: Thing<'panel'>
}

const notYet = (): Thing<'panel'> => ({ ...folders.panel.blank, entries: [] })

/** That a panel is not known yet; nothing where it is. */
export const notKnownYet = ({ id, where }: FoundPanel): Problem[] =>
  where === 'unknown' ? [{ code: 'panelUnknown', limit: null, value: id, panel: id }] : []

/** A panel and its job, where that is known. */
export const keysOf = ({ id, panel }: FoundPanel) => ({
  ...(panel.job === '' ? {} : { job: panel.job }),
  panel: id,
})

/** A job that is closed now: nothing waits on it and no bell of its panels rings. */
export const isJobClosed = (state: State, job: string): boolean =>
  thingOf(state, { kind: 'job', id: job })?.value === 'closed'

/** A job that takes no more facts: what happened before it was closed still counts, whenever it is sent. */
export const isClosedFor = (d: Deciding, job: string): boolean =>
  isJobClosed(d.state, job) && thingThen(d, { kind: 'job', id: job })?.value === 'closed'

/**
 * A panel as it was when the command happened.
 * @returns what makes no sense about it instead: unknown, or of a job closed by then, or removed by then
 */
export function findPanel(d: Deciding, id: string): FoundPanel | { problem: Problem } {
  const now = thingOf(d.state, { kind: 'panel', id })
  const thing = thingThen(d, { kind: 'panel', id })
  const panel = now?.context ?? BLANK_PANEL
  const whereNow = now ? routeState(now.value) : 'unknown'
  if (!now || whereNow === 'unknown') {
    // What is late waits until the panel is added: another kiosk may not have sent that yet.
    if (!d.isLive) return { id, panel: BLANK_PANEL, where: 'unknown', thing: notYet() }
    return { problem: { ...unknown('panel', id, knownIds(d.state, 'panel')), panel: id } }
  }
  const isRemoved = whereNow === 'removed' && routeState(thing?.value ?? now.value) === 'removed'
  if (isRemoved || isClosedFor(d, panel.job)) {
    return {
      problem: { code: 'closed', limit: panel.job, value: id, panel: id, about: panel.name },
    }
  }
  // A fact from before the panel was added is judged by the panel as it began.
  const isThere = thing !== undefined && routeState(thing.value) !== 'unknown'
  const then = isThere ? thing : (asItBegan(d, id, panel) ?? now)
  return { id, panel: then.context, where: routeState(then.value), thing: then }
}

const asItBegan = (d: Deciding, id: string, panel: PanelContext): Thing<'panel'> | undefined =>
  thingThen({ ...d, at: panel.stays[0]?.fromMs ?? d.at }, { kind: 'panel', id })

export const isFound = (found: FoundPanel | { problem: Problem }): found is FoundPanel =>
  'panel' in found

/** All panels of a pass, or every problem of those that do not exist. */
export function findPanels(
  d: Deciding,
  ids: readonly string[],
): { found: FoundPanel[]; problems: Problem[] } {
  const all = ids.map((id) => findPanel(d, id))
  return {
    found: all.filter(isFound),
    problems: all.flatMap((one) => ('problem' in one ? [one.problem] : [])),
  }
}
