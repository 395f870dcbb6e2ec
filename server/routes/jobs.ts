import { check, text } from '../../machines/accept.ts'
import type { FoundLaterAnswer } from '../../machines/contract/foundLater.ts'
import type { JobsAnswer } from '../../machines/contract.ts'
import { jobQuery } from '../../machines/job/search.ts'
import { settingsAt } from '../../machines/shop/settings.ts'
import { countOf, only, type Routes, sayProblem, sayWrong } from '../http.ts'
import { jobsFoundLater } from '../jobSearch/foundLater.ts'
import { openJobIndex } from '../jobSearch/index.ts'
import { unreadable } from '../problems.ts'
import { indexIn } from '../sideIndex/file.ts'
import { followLog } from '../sideIndex/follow.ts'

const LIMIT = 50
const LIMIT_MOST = 200
const SKIP_MOST = 100_000

/**
 * GET /api/jobs?find=&skip=&limit=: the jobs that are found by what is typed, closed ones as well, the last
 * worked on first; without `find` all of them.
 * GET /api/jobs/foundLater: those of which a limit was found to be broken after they were closed, or by
 * what was told late, and about which nobody has decided.
 * @param folder where the index is kept; null keeps it in memory
 */
export const jobSearchRoutes =
  (folder: string | null): Routes =>
  (app, { shops, clock, report }) => {
    const { ownWriter } = shops
    const index = indexIn(folder, 'jobs.sqlite', openJobIndex, report)
    const { behind } = followLog(index, ownWriter, report)

    only(app, 'GET', '/api/jobs', async (c) => {
      const given = c.req.query('find') ?? ''
      const find = given.trim() === '' ? '' : check(text(120), given, 'find')
      if (typeof find !== 'string' && !find.ok) return sayWrong(c, find)
      const typed = typeof find === 'string' ? find : find.value
      const skip = countOf(c, 'skip', { min: 0, max: SKIP_MOST, otherwise: 0 })
      if (typeof skip !== 'number') return sayWrong(c, skip)
      const limit = countOf(c, 'limit', { min: 1, max: LIMIT_MOST, otherwise: LIMIT })
      if (typeof limit !== 'number') return sayWrong(c, limit)
      const left = await behind()
      const now = clock.now()
      try {
        const { timeZone } = settingsAt(ownWriter.state(), now)
        // One more than asked for says whether there are more.
        const found = index.find(jobQuery(typed, now, timeZone), { skip, limit: limit + 1 })
        const jobs = found.slice(0, limit)
        const answer: JobsAnswer = { jobs, isMore: found.length > limit, behind: left }
        return c.json(answer)
      } catch (error) {
        report(error)
        return sayProblem(c, unreadable(error))
      }
    })

    only(app, 'GET', '/api/jobs/foundLater', async (c) => {
      const left = await behind()
      try {
        const { head } = ownWriter.state()
        const found = await jobsFoundLater({ reader: ownWriter.reader, index, head })
        return c.json({ ...found, behind: left } satisfies FoundLaterAnswer)
      } catch (error) {
        report(error)
        return sayProblem(c, unreadable(error))
      }
    })
  }
