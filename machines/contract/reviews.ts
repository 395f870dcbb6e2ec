import type { Defect } from '../trace/causes.ts'
import type { Priors, Review } from '../trace/reviews.ts'

/** GET /api/reviews?defect=: what people found of its causes, and how usual each is by that. */
export type ReviewsAnswer = Priors & {
  readonly defect: Defect
  /** The last ones first, at most a hundred. */
  readonly reviews: readonly Review[]
}
