/**
 * What a shop's own work says of a figure of its sheets, with statistics that a painter can check: the
 * middle case, the middle half of the cases, how many there were, and with what weight the sheet's own
 * figure still counts. For forecasts only: no gate, deadline or bell reads it.
 */

/**
 * One case as a multiple of the sheet's own figure. What was only looked at now and then lies between two
 * looks: more than `lo` and at most `hi`. What was measured has both the same.
 */
export type Case = { readonly lo: number; readonly hi: number }

export type Learned = {
  /** What a forecast multiplies the sheet's own figure by. */
  readonly factor: number
  /** The middle half of the cases, moved as the factor is. */
  readonly spread: readonly [low: number, high: number]
  /** The middle of all cases; null without any. */
  readonly median: number | null
  readonly cases: number
  /** With what weight the sheet's own figure counts beside the median, 0 to 1. */
  readonly sheetWeight: number
}

/** The middle half of a figure that nobody has counted yet. Common practice, no source. */
const UNKNOWN_SPREAD = [0.85, 1.2] as const
/** How far single cases are taken to lie apart before there are some, and for how many cases the sheet counts. */
const PRIOR_SIGMA = 0.2
const PRIOR_CASES = 3
/** From so many cases on their own middle half is shown. */
const OWN_SPREAD_FROM = 4
/** The sheet's figure stands alone while the median is not further from it than so many of its own errors. */
const ERRORS = 2
/** The standard error of a median is so much that of a mean, of cases that lie as errors do (sqrt(pi / 2)). */
const OF_A_MEDIAN = Math.sqrt(Math.PI / 2)
/** The middle half of what lies as errors do is so many standard deviations wide. */
const HALF_WIDTH = 1.349

/** The figure of a shop that has no case of it. */
export const NOT_LEARNED: Learned = {
  factor: 1,
  spread: UNKNOWN_SPREAD,
  median: null,
  cases: 0,
  sheetWeight: 1,
}

/** Between the two nearest of some sorted numbers, at a share of the way through them. */
function quantile(sorted: readonly number[], share: number): number {
  const at = (sorted.length - 1) * share
  const below = sorted[Math.floor(at)] as number
  const above = sorted[Math.ceil(at)] as number
  return below + (above - below) * (at - Math.floor(at))
}

const inOrder = (numbers: readonly number[]): number[] => numbers.toSorted((a, b) => a - b)

/**
 * The figure that contradicts the cases least: the median, where each case was measured. Of cases that lie
 * between looks it is the middle of all their limits; where every figure of a stretch contradicts them as
 * little, it is that next to the sheet's own.
 */
function middle(cases: readonly Case[]): number {
  const limits = inOrder(cases.flatMap(({ lo, hi }) => [lo, hi]))
  const [low, high] = [limits[cases.length - 1] as number, limits[cases.length] as number]
  if (cases.every(({ lo, hi }) => lo === hi)) return (low + high) / 2
  return Math.min(high, Math.max(low, 1))
}

/** Where a case lies: between its looks, or at the only one. */
const placeOf = ({ lo, hi }: Case): number => (lo > 0 ? (lo + hi) / 2 : hi)

/**
 * What some cases say of a figure.
 * @param cases multiples of the sheet's own figure, above zero
 */
export function learnedFrom(cases: readonly Case[]): Learned {
  const n = cases.length
  if (n === 0) return NOT_LEARNED
  const median = middle(cases)
  const places = inOrder(cases.map(placeOf))
  const [q1, q3] = [quantile(places, 0.25), quantile(places, 0.75)]
  const own = (q3 - q1) / HALF_WIDTH
  const sigma = Math.sqrt((n * own ** 2 + PRIOR_CASES * PRIOR_SIGMA ** 2) / (n + PRIOR_CASES))
  const error = (OF_A_MEDIAN * sigma) / Math.sqrt(n)
  const off = Math.abs(median - 1)
  const near = off <= ERRORS * error ? 1 : (ERRORS * error) ** 2 / off ** 2
  const sheetWeight = Math.max(near, PRIOR_CASES / (n + PRIOR_CASES))
  const factor = sheetWeight + (1 - sheetWeight) * median
  const half: readonly [number, number] =
    n < OWN_SPREAD_FROM ? UNKNOWN_SPREAD : [Math.min(1, q1 / median), Math.max(1, q3 / median)]
  return { factor, spread: [factor * half[0], factor * half[1]], median, cases: n, sheetWeight }
}
