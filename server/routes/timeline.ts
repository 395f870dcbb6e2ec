import { check, id8 } from '../../machines/accept.ts'
import type { ThingRef } from '../../machines/catalog.ts'
import type { TimelineAnswer } from '../../machines/contract.ts'
import type { Entry } from '../../machines/envelope.ts'
import { relatedEntries } from '../../machines/job/relatedEntries.ts'
import { chartedIn, stepsIn } from '../../machines/job/steps.ts'
import { joined } from '../../machines/spans.ts'
import { only, type Routes, sayProblem, sayWrong } from '../http.ts'
import { problem, unreadable } from '../problems.ts'
import { type Reader, understood } from '../reading.ts'

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
async function timelineOf(own: readonly Entry[], head: number, reader: Reader): Promise<Timeline> {
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

/**
 * GET /api/jobs/:id/timeline: all entries of a job in the order in which they happened, voided ones
 * and their voids included, with those of the cups and guns that its coats were sprayed from, and
 * `steps`: the state that each led its panel, cup or job to, or in which that did not take it. Read
 * from the log, so that a job closed years ago answers as well. The air is not told reading by
 * reading: each coat's entry keeps the one that it was judged by.
 */
export const timelineRoutes: Routes = (app, { shops, report }) => {
  const { ownWriter } = shops

  only(app, 'GET', '/api/jobs/:id/timeline', async (c) => {
    const id = check(id8, c.req.param('id'), 'id')
    if (!id.ok) return sayWrong(c, id)
    const job = id.value
    try {
      // What is in the store but not in the state is not committed yet.
      const { head } = ownWriter.state()
      const found = await ownWriter.reader.byThing('job', job)
      const own = found.filter((entry) => entry.position <= head)
      if (own.length > 0) {
        const timeline = await timelineOf(own, head, ownWriter.reader)
        return c.json({ job, head, ...timeline } satisfies TimelineAnswer)
      }
    } catch (error) {
      report(error)
      return sayProblem(c, unreadable(error))
    }
    return sayProblem(c, problem('notFound', { what: 'job', name: job }))
  })
}
