import { check, id8 } from '../../machines/accept.ts'
import { byOccurrence } from '../../machines/envelope.ts'
import { only, type Routes, sayWrong } from '../http.ts'
import { problem, unreadable } from '../problems.ts'

/**
 * GET /api/jobs/:id/timeline: all entries of a job in the order in which they happened, voided ones
 * and their voids included. Read from the log, so that a job closed years ago answers as well.
 */
export const timelineRoutes: Routes = (app, { shops, report }) => {
  const { ownWriter } = shops

  only(app, 'GET', '/api/jobs/:id/timeline', async (c) => {
    const id = check(id8, c.req.param('id'), 'id')
    if (!id.ok) return sayWrong(c, id.error)
    const job = id.value
    try {
      // What is in the store but not in the state is not committed yet.
      const { head } = ownWriter.state()
      const found = await ownWriter.reader.byThing('job', job)
      const entries = found.filter((entry) => entry.position <= head).toSorted(byOccurrence)
      if (entries.length > 0) return c.json({ job, head, entries })
    } catch (error) {
      report(error)
      const { status, body } = unreadable(error)
      return c.json(body, status)
    }
    const { status, body } = problem('notFound', `No job ${job} is known here.`)
    return c.json(body, status)
  })
}
