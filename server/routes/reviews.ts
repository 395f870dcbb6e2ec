import type { ReviewsAnswer } from '../../machines/contract/reviews.ts'
import { wrongAt } from '../../machines/contract.ts'
import { DEFECTS } from '../../machines/trace/causes.ts'
import { priorsOf, reviewsIn } from '../../machines/trace/reviews.ts'
import { only, type Routes, sayProblem, sayWrong } from '../http.ts'
import { unreadable } from '../problems.ts'

const ALWAYS = { fromAt: 0, toAt: Number.MAX_SAFE_INTEGER }
const SHOWN_MOST = 100

/** GET /api/reviews?defect=: a shop's reviews of a defect, read by type: there are a few a week at most. */
export const reviewRoutes: Routes = (app, { shops, report }) => {
  const { ownWriter } = shops

  only(app, 'GET', '/api/reviews', async (c) => {
    const given = c.req.query('defect')
    const defect = DEFECTS.find((one) => one === given)
    if (defect === undefined)
      return sayWrong(c, wrongAt('defect', given, 'oneOf', { words: DEFECTS }))
    try {
      const { head } = ownWriter.state()
      const found = await ownWriter.reader.byType('CauseReviewed', ALWAYS)
      const entries = found.filter(({ position }) => position <= head)
      const voids = await ownWriter.reader.voidsOf(entries.map(({ id }) => id))
      const all = reviewsIn([...entries, ...voids])
      const reviews = all
        .filter((one) => one.defect === defect)
        .toSorted((a, b) => b.at - a.at)
        .slice(0, SHOWN_MOST)
      return c.json({ defect, reviews, ...priorsOf(defect, all) } satisfies ReviewsAnswer)
    } catch (error) {
      report(error)
      return sayProblem(c, unreadable(error))
    }
  })
}
