import type { CommandData } from '../commands.ts'
import { type Deciding, type Decision, jobNotKnownYet, knownIds, unknown } from '../deciding.ts'
import { judge } from '../judge.ts'
import type { Problem } from '../refusals.ts'
import { contextOf, thingOf } from '../state.ts'

/** Notes and photos are facts about a job; a closed one takes them too: defects show weeks later. */
function problemsOf(d: Deciding, job: string, panel: string | undefined): readonly Problem[] {
  const thing = thingOf(d.state, { kind: 'job', id: job })
  const isKnown = thing !== undefined && thing.value !== 'unknown'
  if (!isKnown && d.isLive) return [unknown('job', job, knownIds(d.state, 'job'))]
  const waits = jobNotKnownYet(isKnown, job)
  const of = contextOf(d.state, 'panel', panel)?.job || undefined
  if (panel === undefined || of === job) return waits
  // What is late may be of a panel that another kiosk has added and not sent yet.
  if (of === undefined && !d.isLive)
    return [...waits, { code: 'panelUnknown', limit: null, value: panel }]
  return [unknown('panel', panel, null)]
}

function noted(
  d: Deciding,
  type: 'NoteAdded' | 'PhotoAdded',
  { job, ...data }: { readonly job: string; readonly panel?: string | undefined },
): Decision {
  const problems = problemsOf(d, job, data.panel)
  const verdict = judge({ isLive: d.isLive, now: d.now, problems })
  if ('refusal' in verdict) return verdict
  return { facts: [{ type, keys: { job }, data, marks: verdict.marks() }] }
}

export const addNote = (d: Deciding<'AddNote', CommandData<'AddNote'>>): Decision =>
  noted(d, 'NoteAdded', d.data)

/** The picture is sent before; here its hash becomes part of the record. */
export const addPhoto = (d: Deciding<'AddPhoto', CommandData<'AddPhoto'>>): Decision =>
  noted(d, 'PhotoAdded', d.data)
