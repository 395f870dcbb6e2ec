import { can } from '../can.ts'
import type { CommandData } from '../commands.ts'
import {
  type Deciding,
  type Decision,
  jobNotKnownYet,
  knownIds,
  type NewFact,
  refused,
  thingThen,
  unknown,
} from '../deciding.ts'
import { compareText } from '../envelope.ts'
import { judge } from '../judge.ts'
import { liveIn } from '../live.ts'
import type { PanelContext } from '../panel/context.ts'
import { isInWork, type PanelState, routeState } from '../panel/where.ts'
import type { Problem } from '../refusals.ts'
import { thingOf } from '../state.ts'
import type { Thing } from '../things.ts'
import { openDeviations } from '../trace/openDeviations.ts'

type JobCommand = 'PauseJob' | 'ResumeJob' | 'ReopenJob' | 'CloseJob'

const job = (d: Deciding, id: string) => {
  const thing = thingOf(d.state, { kind: 'job', id })
  return thing && thing.value !== 'unknown' ? thing : null
}

type JobPanel = { id: string; panel: PanelContext; where: PanelState; thing: Thing<'panel'> }

/** Sorted by id: a state that was evicted and read back holds them in another order. */
export function panelsOf(
  d: Deciding,
  id: string,
  without: readonly PanelState[] = ['unknown', 'removed'],
): JobPanel[] {
  return Object.entries(d.state.things.panel)
    .filter(([, { context }]) => context.job === id)
    .map(([panelId, thing]) => ({
      id: panelId,
      panel: thing.context,
      where: routeState(thing.value),
      thing,
    }))
    .filter(({ where }) => !without.includes(where))
    .sort((a, b) => compareText(a.id, b.id))
}

/** The job's panels that are still in work. */
const openPanels = (d: Deciding, id: string): JobPanel[] =>
  panelsOf(d, id).filter((p) => isInWork(p.where))

/**
 * Pausing and resuming is recorded for each panel that it changes; a passed one may come back. Late, for all of them:
 * what another kiosk pressed before it may not have come yet, and a panel was not removed before that was pressed.
 */
function turned(d: Deciding, id: string, type: Turn): NewFact[] {
  if (!d.isLive) return panelsOf(d, id, ['unknown']).flatMap((p) => turnedLate(d, id, type, p))
  return panelsOf(d, id)
    .filter(({ thing }) => can(d, 'panel', thing, { type, data: {} }))
    .map((p) => ({ type, keys: { job: id, panel: p.id }, data: {} }))
}

type Turn = 'JobPaused' | 'JobResumed'
const TURNS: readonly string[] = ['JobPaused', 'JobResumed', 'JobClosed', 'JobReopened']

/** What was pressed since and came before may not have known of the panel: that follows with it. */
function turnedLate(
  d: Deciding,
  id: string,
  type: Turn,
  { id: panel, thing }: JobPanel,
): NewFact[] {
  const keys = { job: id, panel }
  const since = liveIn(job(d, id)?.entries ?? []).findLast((e) => TURNS.includes(e.type))
  const isSaid = thing.entries.some((e) => e.at === since?.at && TURNS.includes(e.type))
  const then = since?.type === 'JobPaused' ? 'JobPaused' : 'JobResumed'
  const isTurned = since !== undefined && since.at > d.at && then !== type && !isSaid
  const own = { type, keys, data: {} }
  return isTurned ? [own, { type: then, keys, data: {}, at: since.at }] : [own]
}

/** What follows another press, which may come later if this one is late; a job that two closed is closed. */
const mayFollow = (type: NewFact['type'], isClosed: boolean): boolean =>
  type === 'JobClosed' || (!isClosed && ['JobPaused', 'JobResumed', 'JobReopened'].includes(type))

/** A job as it was when a command happened. */
function jobThen(d: Deciding, id: string, now: Thing<'job'>): Thing<'job'> {
  const then = d.isLive ? now : thingThen(d, { kind: 'job', id })
  return then && then.value !== 'unknown' ? then : now
}

/** A job that takes a fact from where it stands, or why not. */
export function jobFor(
  d: Deciding,
  id: string,
  type: NewFact['type'],
  from: string,
  data: NewFact['data'] = {},
):
  | { readonly title: string; readonly problems: readonly Problem[] }
  | { readonly decision: Decision } {
  const found = job(d, id)
  if (!found && d.isLive) return { decision: refused(unknown('job', id, knownIds(d.state, 'job'))) }
  // What is late waits until the job is opened: another kiosk may not have sent that yet.
  if (!found) return { title: id, problems: jobNotKnownYet(false, id) }
  const { title } = found.context
  const then = jobThen(d, id, found)
  const isClosed = then.value === 'closed'
  const isLate = !d.isLive && mayFollow(type, isClosed)
  if (isLate || can(d, 'job', then, { type, data })) return { title, problems: [] }
  const code = isClosed
    ? { code: 'closed' as const, limit: null, value: id }
    : { code: 'jobState' as const, limit: from, value: then.value }
  return { decision: refused({ ...code, about: title }) }
}

export function openJob(d: Deciding<'OpenJob', CommandData<'OpenJob'>>): Decision {
  const { job: id, ...data } = d.data
  if (job(d, id)) return refused({ code: 'idTaken', what: 'job', limit: null, value: id })
  return { facts: [{ type: 'JobOpened', keys: { job: id }, data }] }
}

/** What a vehicle's maker allows, or that nobody knows it: asked once a job, before the first bake beside it. */
export function setHeatLimit(d: Deciding<'SetHeatLimit', CommandData<'SetHeatLimit'>>): Decision {
  const { job: id, maxC } = d.data
  const found = jobFor(d, id, 'HeatLimitSet', 'open')
  if ('decision' in found) return found.decision
  const verdict = judge({ isLive: d.isLive, now: d.now, problems: found.problems })
  if ('refusal' in verdict) return verdict
  const marks = verdict.marks()
  return { facts: [{ type: 'HeatLimitSet', keys: { job: id }, data: { maxC }, marks }] }
}

/** Pausing silences a job's prompts, and is recorded for each of its panels. Flash and pot life keep running. */
function turn(
  d: Deciding<JobCommand, { job: string }>,
  type: 'JobPaused' | 'JobResumed',
  from: 'open' | 'paused',
): Decision {
  const id = d.data.job
  const found = jobFor(d, id, type, from)
  if ('decision' in found) return found.decision
  const verdict = judge({ isLive: d.isLive, now: d.now, problems: found.problems })
  if ('refusal' in verdict) return verdict
  const own: NewFact = { type, keys: { job: id }, data: {}, marks: verdict.marks() }
  return { facts: [own, ...turned(d, id, type)] }
}

export const pauseJob = (d: Deciding<'PauseJob', CommandData<'PauseJob'>>): Decision =>
  turn(d, 'JobPaused', 'open')

export const resumeJob = (d: Deciding<'ResumeJob', CommandData<'ResumeJob'>>): Decision =>
  turn(d, 'JobResumed', 'paused')

/** What was outside a limit is decided about before a job is done, or the close says why not. */
function undecided(d: Deciding, id: string): Problem[] {
  const panels = panelsOf(d, id).map((p) => p.id)
  const open = openDeviations(d.state, id, panels)
  if (open.length === 0) return []
  const names = new Set(open.flatMap(({ where }) => where.panelName ?? []))
  return [{ code: 'deviationsOpen', limit: [...names].join(', '), value: open.length }]
}

export function closeJob(d: Deciding<'CloseJob', CommandData<'CloseJob'>>): Decision {
  const id = d.data.job
  const found = jobFor(d, id, 'JobClosed', 'open')
  if ('decision' in found) return found.decision
  const open = openPanels(d, id)
  const problems: readonly Problem[] = [
    ...found.problems,
    ...(open.length === 0
      ? []
      : [
          {
            code: 'panelsOpen' as const,
            limit: open.map((p) => p.panel.name).join(', '),
            value: open.length,
          },
        ]),
    ...undecided(d, id),
  ]
  const verdict = judge({ isLive: d.isLive, now: d.now, problems, override: d.data.override })
  if ('refusal' in verdict) return verdict
  const closed: NewFact = {
    type: 'JobClosed',
    keys: { job: id },
    data: {},
    marks: verdict.marks(),
  }
  // A job is reopened awake: its panels must not stay paused.
  return { facts: [closed, ...turned(d, id, 'JobResumed')] }
}

export function reopenJob(d: Deciding<'ReopenJob', CommandData<'ReopenJob'>>): Decision {
  const id = d.data.job
  const found = jobFor(d, id, 'JobReopened', 'closed')
  if ('decision' in found) return found.decision
  const verdict = judge({ isLive: d.isLive, now: d.now, problems: found.problems })
  if ('refusal' in verdict) return verdict
  return { facts: [{ type: 'JobReopened', keys: { job: id }, data: {}, marks: verdict.marks() }] }
}
