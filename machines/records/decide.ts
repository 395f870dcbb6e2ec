import type { CommandData } from '../commands.ts'
import { wrongAt } from '../contract/wrongField.ts'
import {
  type Deciding,
  type Decision,
  jobNotKnownYet,
  knownIds,
  refused,
  unknown,
} from '../deciding.ts'
import type { Draft } from '../envelope.ts'
import { judge } from '../judge.ts'
import type { Problem } from '../refusals.ts'
import { thingOf } from '../state.ts'

/** Records are typed in and not judged; what is said of a job is about something that it has. */

export const recordTraining = (
  d: Deciding<'RecordTraining', CommandData<'RecordTraining'>>,
): Decision =>
  d.data.doneMs > d.now
    ? wrongAt('data.doneMs', d.data.doneMs, 'notAhead', { nowMs: d.now })
    : { facts: [{ type: 'TrainingRecorded', data: d.data }] }

export function serviceFilter(
  d: Deciding<'ServiceFilter', CommandData<'ServiceFilter'>>,
): Decision {
  const { zone, doneMs, ...data } = d.data
  if (doneMs !== undefined && doneMs > d.now)
    return wrongAt('data.doneMs', doneMs, 'notAhead', { nowMs: d.now })
  const fact = { doneMs: doneMs ?? d.at, ...data }
  return { facts: [{ type: 'FilterServiced', keys: { zone }, data: fact }] }
}

export function recordSolvent(d: Deciding<'UseSolvent', CommandData<'UseSolvent'>>): Decision {
  const { zone, ...data } = d.data
  return { facts: [{ type: 'SolventUsed', keys: { zone }, data }] }
}

function jobProblems(d: Deciding, job: string): Problem[] {
  const thing = thingOf(d.state, { kind: 'job', id: job })
  const isKnown = thing !== undefined && thing.value !== 'unknown'
  if (!isKnown && d.isLive) return [unknown('job', job, knownIds(d.state, 'job'))]
  return jobNotKnownYet(isKnown, job)
}

/** Whether the state has an entry: of the job, its panels, its cups and guns, or of a cup that was named. */
const hasEntry = (d: Deciding, id: string): boolean =>
  (['job', 'panel', 'cup', 'gun'] as const).some((kind) =>
    Object.values(d.state.things[kind]).some(({ entries }) =>
      entries.some((e: Draft) => e.id === id),
    ),
  )

export function settleDeviation(
  d: Deciding<'SettleDeviation', CommandData<'SettleDeviation'>>,
): Decision {
  const { job, reason, ...data } = d.data
  const problems = jobProblems(d, job)
  // A late one may be of an entry that another kiosk has not sent yet.
  if (problems.length === 0 && d.isLive && !hasEntry(d, data.entry))
    return refused(unknown('entry', data.entry, null))
  const verdict = judge({ isLive: d.isLive, now: d.now, problems })
  if ('refusal' in verdict) return verdict
  const keys = { job }
  return { facts: [{ type: 'DeviationSettled', keys, data, reason, marks: verdict.marks() }] }
}

export function reviewCause(d: Deciding<'ReviewCause', CommandData<'ReviewCause'>>): Decision {
  const { job, reason, ...data } = d.data
  if (data.verdict === 'edit' && data.instead === undefined)
    return wrongAt('data.instead', undefined, 'text', { max: 60 })
  const verdict = judge({ isLive: d.isLive, now: d.now, problems: jobProblems(d, job) })
  if ('refusal' in verdict) return verdict
  const keys = { job }
  return { facts: [{ type: 'CauseReviewed', keys, data, reason, marks: verdict.marks() }] }
}
