import type { CommandData } from '../commands.ts'
import { type Deciding, type Decision, knownIds, refused, unknown } from '../deciding.ts'
import type { Problem } from '../refusals.ts'
import { contextOf, thingOf } from '../state.ts'

/** Notes and photos are facts about a job; a closed one takes them too: defects show weeks later. */
function problemOf(d: Deciding, job: string, panel: string | undefined): Problem | null {
  const thing = thingOf(d.state, { kind: 'job', id: job })
  if (!thing || thing.value === 'unknown') return unknown('job', job, knownIds(d.state, 'job'))
  const of = contextOf(d.state, 'panel', panel)?.job
  return panel === undefined || of === job ? null : unknown('panel', panel, null)
}

export function addNote(d: Deciding<'AddNote', CommandData<'AddNote'>>): Decision {
  const { job, ...data } = d.data
  const problem = problemOf(d, job, data.panel)
  if (problem) return refused(problem)
  return { facts: [{ type: 'NoteAdded', keys: { job }, data }] }
}

/** The picture is sent before; here its hash becomes part of the record. */
export function addPhoto(d: Deciding<'AddPhoto', CommandData<'AddPhoto'>>): Decision {
  const { job, ...data } = d.data
  const problem = problemOf(d, job, data.panel)
  if (problem) return refused(problem)
  return { facts: [{ type: 'PhotoAdded', keys: { job }, data }] }
}
