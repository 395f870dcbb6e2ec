import { check, id8 } from '../../machines/accept.ts'
import type { TimelineAnswer } from '../../machines/contract.ts'
import { only, type Routes, sayProblem, sayWrong } from '../http.ts'
import { ownEntries, timelineOf } from '../jobEntries.ts'
import { problem, unreadable } from '../problems.ts'

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
      const { head } = ownWriter.state()
      const own = await ownEntries(job, head, ownWriter.reader)
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
