import type { ThingRef } from '../machines/catalog.ts'
import type { TimelineAnswer } from '../machines/contract.ts'
import type { Entry } from '../machines/envelope.ts'
import { relatedEntries } from '../machines/job/relatedEntries.ts'
import { chartedIn, stepsIn } from '../machines/job/steps.ts'
import { joined } from '../machines/spans.ts'
import { type Reader, understood } from './reading.ts'

/** The entries of a job from the log, by index, with what bears on it. */

/** Entries of a gun further than this from a coat say nothing more about that coat. */
const GUN_MS = 7 * 24 * 3_600_000

/**
 * The entries of a cup; of a gun, which serves for years, those around each use of it that is known.
 * A job that is spoken of years later does not ask for all that the gun sprayed in between.
 */
async function entriesOf({ kind, id }: ThingRef, known: readonly Entry[], reader: Reader) {
  if (kind === 'cup') return await reader.byThing('cup', id)
  const uses = known.filter(({ gun }) => gun === id)
  const spans = joined(uses.map(({ at }) => ({ fromMs: at - GUN_MS, toMs: at + GUN_MS })))
  const read = spans.map(({ fromMs, toMs }) =>
    reader.byThing('gun', id, { fromAt: fromMs, toAt: toMs }),
  )
  return (await Promise.all(read)).flat()
}

const nameOf = ({ kind, id }: ThingRef): string => `${kind} ${id}`

type Timeline = Pick<TimelineAnswer, 'entries' | 'steps'>

/** A job's entries with what bears on it: each cup's parents are known only when it was read. */
export async function timelineOf(
  own: readonly Entry[],
  head: number,
  reader: Reader,
): Promise<Timeline> {
  const known = new Map<string, readonly Entry[]>()
  const made = <T>(make: () => T) =>
    understood(own[0]?.shop ?? '', `the entries of job ${own[0]?.job}`, make)
  const read = async (ref: ThingRef) => {
    const found = await entriesOf(ref, [...own, ...[...known.values()].flat()], reader)
    known.set(
      nameOf(ref),
      found.filter((entry) => entry.position <= head),
    )
  }
  for (;;) {
    const { entries, missing } = made(() => relatedEntries(own, (ref) => known.get(nameOf(ref))))
    for (const ref of missing) await read(ref)
    if (missing.length > 0) continue
    // A cup that was mixed for the job and never sprayed is not related by any coat.
    const cups = made(() => chartedIn(entries)).filter(({ kind }) => kind === 'cup')
    for (const ref of cups) if (!known.has(nameOf(ref))) await read(ref)
    const of = (ref: ThingRef) => known.get(nameOf(ref)) ?? own
    return { entries, steps: made(() => stepsIn(entries, of)) }
  }
}

/** The entries that carry a job's id, up to a position: none for a job that the log does not know. */
export async function ownEntries(job: string, head: number, reader: Reader): Promise<Entry[]> {
  const found = await reader.byThing('job', job)
  // What is in the store but not in the state is not committed yet.
  return found.filter((entry) => entry.position <= head)
}
