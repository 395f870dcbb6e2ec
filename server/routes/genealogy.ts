import { check, id8, text } from '../../machines/accept.ts'
import { type AlikeAnswer, FOLLOWED, type LotsAnswer } from '../../machines/contract/genealogy.ts'
import { wrongAt } from '../../machines/contract.ts'
import { alikeJobs } from '../genealogy/alike.ts'
import { followed } from '../genealogy/follow.ts'
import { openGenealogy } from '../genealogy/index.ts'
import { countOf, only, type Routes, sayProblem, sayWrong } from '../http.ts'
import { problem, unreadable } from '../problems.ts'
import { indexIn } from '../sideIndex/file.ts'
import { followLog } from '../sideIndex/follow.ts'

const LIMIT = 50
const LIMIT_MOST = 500
const SKIP_MOST = 1_000_000
const LOT_MOST = 60

/**
 * GET /api/genealogy/:kind/:id?skip=&limit=: where a lot or a cup went, and what a panel was sprayed with.
 * GET /api/jobs/:id/alike: jobs of the same products that went well, to be compared with.
 * GET /api/lots?find=&skip=&limit=: the lots that are known.
 * @param folder where the index is kept; null keeps it in memory
 */
export const genealogyRoutes =
  (folder: string | null): Routes =>
  (app, { shops, report }) => {
    const { ownWriter } = shops
    const index = indexIn(folder, 'genealogy.sqlite', openGenealogy, report)
    const { behind } = followLog(index, ownWriter, report)

    only(app, 'GET', '/api/genealogy/:kind/:id', async (c) => {
      const given = c.req.param('kind') ?? ''
      const kind = FOLLOWED.find((one) => one === given)
      if (kind === undefined)
        return sayWrong(c, wrongAt('kind', given, 'oneOf', { words: FOLLOWED }))
      const id = check(kind === 'lot' ? text(LOT_MOST) : id8, c.req.param('id'), 'id')
      if (!id.ok) return sayWrong(c, id)
      const skip = countOf(c, 'skip', { min: 0, max: SKIP_MOST, otherwise: 0 })
      if (typeof skip !== 'number') return sayWrong(c, skip)
      const limit = countOf(c, 'limit', { min: 1, max: LIMIT_MOST, otherwise: LIMIT })
      if (typeof limit !== 'number') return sayWrong(c, limit)
      const left = await behind()
      try {
        const found = await followed({ kind, id: id.value }, index, { skip, limit })
        if (found === null)
          return sayProblem(c, problem('notFound', { what: kind, name: id.value }))
        return c.json({ ...found, behind: left })
      } catch (error) {
        report(error)
        return sayProblem(c, unreadable(error))
      }
    })

    only(app, 'GET', '/api/jobs/:id/alike', async (c) => {
      const id = check(id8, c.req.param('id'), 'id')
      if (!id.ok) return sayWrong(c, id)
      const left = await behind()
      try {
        const { head } = ownWriter.state()
        const jobs = await alikeJobs(id.value, head, { reader: ownWriter.reader, index })
        if (jobs === null)
          return sayProblem(c, problem('notFound', { what: 'job', name: id.value }))
        return c.json({ jobs, behind: left } satisfies AlikeAnswer)
      } catch (error) {
        report(error)
        return sayProblem(c, unreadable(error))
      }
    })

    only(app, 'GET', '/api/lots', async (c) => {
      const find = c.req.query('find') ?? ''
      if (find.length > LOT_MOST)
        return sayWrong(c, wrongAt('find', find, 'text', { max: LOT_MOST }))
      const skip = countOf(c, 'skip', { min: 0, max: SKIP_MOST, otherwise: 0 })
      if (typeof skip !== 'number') return sayWrong(c, skip)
      const limit = countOf(c, 'limit', { min: 1, max: LIMIT_MOST, otherwise: LIMIT })
      if (typeof limit !== 'number') return sayWrong(c, limit)
      const left = await behind()
      try {
        const found = index.lots(find, { skip, limit: limit + 1 })
        const lots = found.slice(0, limit)
        return c.json({ lots, isMore: found.length > limit, behind: left } satisfies LotsAnswer)
      } catch (error) {
        report(error)
        return sayProblem(c, unreadable(error))
      }
    })
  }
