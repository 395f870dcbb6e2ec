import type { CommandData } from '../commands.ts'
import {
  type Deciding,
  type Decision,
  knownIds,
  type NewFact,
  refused,
  unknown,
} from '../deciding.ts'
import { compareText } from '../envelope.ts'
import { judge } from '../judge.ts'
import type { PanelContext } from '../panel/context.ts'
import { isPaused, routeState } from '../panel/where.ts'
import type { Problem } from '../refusals.ts'
import { thingOf } from '../state.ts'

type JobCommand = 'PauseJob' | 'ResumeJob' | 'ReopenJob' | 'CloseJob'

const job = (d: Deciding, id: string) => {
  const thing = thingOf(d.state, { kind: 'job', id })
  return thing && thing.value !== 'unknown' ? { is: thing.value, context: thing.context } : null
}

type JobPanel = { id: string; panel: PanelContext; where: string; isPaused: boolean }

/** Sorted by id: a state that was evicted and read back holds them in another order. */
function panelsOf(d: Deciding, id: string): JobPanel[] {
  return Object.entries(d.state.things.panel)
    .map(([panelId, thing]) => ({
      id: panelId,
      panel: thing.context,
      where: routeState(thing.value),
      isPaused: isPaused(thing.value),
    }))
    .filter((p) => p.panel.job === id && !['unknown', 'removed'].includes(p.where))
    .sort((a, b) => compareText(a.id, b.id))
}

/** The job's panels that are still in work. */
const openPanels = (d: Deciding, id: string): JobPanel[] =>
  panelsOf(d, id).filter((p) => p.where !== 'passed')

/** Pausing and resuming is said of each panel that it changes; a passed one may come back. */
const turned = (d: Deciding, id: string, type: 'JobPaused' | 'JobResumed'): NewFact[] =>
  panelsOf(d, id)
    .filter((p) => p.isPaused === (type === 'JobResumed'))
    .map((p) => ({ type, keys: { job: id, panel: p.id }, data: {} }))

export function openJob(d: Deciding<'OpenJob', CommandData<'OpenJob'>>): Decision {
  const { job: id, ...data } = d.data
  if (job(d, id)) return refused(d, { code: 'idTaken', limit: 'a new id', value: id, about: 'Job' })
  return { facts: [{ type: 'JobOpened', keys: { job: id }, data }] }
}

/** Pausing silences a job's prompts, and says so of each of its panels. Chemistry goes on. */
function turn(
  d: Deciding<JobCommand, { job: string }>,
  type: 'JobPaused' | 'JobResumed',
  from: 'open' | 'paused',
): Decision {
  const id = d.data.job
  const found = job(d, id)
  if (!found) return refused(d, unknown('Job', id, knownIds(d.state, 'job')))
  const about = found.context.title
  if (found.is === 'closed') return refused(d, { code: 'closed', limit: null, value: id, about })
  if (found.is !== from) {
    return refused(d, { code: 'jobState', limit: from, value: String(found.is), about })
  }
  return { facts: [{ type, keys: { job: id }, data: {} }, ...turned(d, id, type)] }
}

export const pauseJob = (d: Deciding<'PauseJob', CommandData<'PauseJob'>>): Decision =>
  turn(d, 'JobPaused', 'open')

export const resumeJob = (d: Deciding<'ResumeJob', CommandData<'ResumeJob'>>): Decision =>
  turn(d, 'JobResumed', 'paused')

export function closeJob(d: Deciding<'CloseJob', CommandData<'CloseJob'>>): Decision {
  const id = d.data.job
  const found = job(d, id)
  if (!found) return refused(d, unknown('Job', id, knownIds(d.state, 'job')))
  if (found.is === 'closed') {
    return refused(d, { code: 'closed', limit: null, value: id, about: found.context.title })
  }
  const open = openPanels(d, id)
  const problems: Problem[] =
    open.length === 0
      ? []
      : [
          {
            code: 'panelsOpen',
            limit: open.map((p) => p.panel.name).join(', '),
            value: open.length,
          },
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
  const found = job(d, id)
  if (!found) return refused(d, unknown('Job', id, knownIds(d.state, 'job')))
  if (found.is !== 'closed') {
    const about = found.context.title
    return refused(d, { code: 'jobState', limit: 'closed', value: String(found.is), about })
  }
  return { facts: [{ type: 'JobReopened', keys: { job: id }, data: {} }] }
}
