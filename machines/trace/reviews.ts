import type { Draft } from '../envelope.ts'
import { causesOf, DEFECTS, type Defect } from './causes.ts'

/** What people found of causes, and what a shop's own reviews make of how usual each is. */

/** As many closed reviews of a defect, before a shop's own figures may stand in place of the usual ones. */
export const REVIEWS_LEAST = 30

export type Review = {
  readonly entry: string
  readonly job: string | null
  readonly at: number
  readonly by: string | null
  readonly defect: Defect
  /** The cause that it was about, and what was found: the cause that it really was, or null where it was not this one. */
  readonly cause: string
  readonly found: string | null
  readonly reason: string | null
}

/** What of entries is a review; a job's last one of a defect and a cause counts. */
export function reviewsIn(entries: readonly Draft[]): Review[] {
  const voided = new Set(entries.flatMap((e) => (e.type === 'EntryVoided' ? [e.data.entry] : [])))
  const last = new Map<string, Review>()
  for (const entry of entries.toSorted((a, b) => a.at - b.at)) {
    if (entry.type !== 'CauseReviewed' || voided.has(entry.id)) continue
    const { defect, cause, verdict, instead } = entry.data as Readonly<Record<string, string>>
    const known = DEFECTS.find((one) => one === defect)
    if (known === undefined || cause === undefined) continue
    const found = verdict === 'accept' ? cause : verdict === 'edit' ? (instead ?? null) : null
    const { id, job = null, at, by, reason = null } = entry
    last.set(`${job} ${defect} ${cause}`, {
      ...{ entry: id, job, at, by, defect: known, cause, found, reason },
    })
  }
  return [...last.values()]
}

export type Prior = {
  readonly cause: string
  readonly usual: number
  /** The same by the shop's own reviews; null before there are enough. */
  readonly own: number | null
  readonly found: number
}

export type Priors = { readonly closed: number; readonly priors: readonly Prior[] }

/**
 * How usual each cause of a defect is, before and after the shop's reviews: what was found is added to the
 * usual figures as if these rested on as many reviews as are asked for, so that a shop's own weigh as much then.
 * What no log shows keeps its place beside them.
 * @returns `closed`: reviews that said what it was
 */
export function priorsOf(defect: Defect, reviews: readonly Review[]): Priors {
  const closed = reviews.filter((one) => one.defect === defect && one.found !== null)
  const causes = causesOf(defect)
  const whole = causes.reduce((sum, { prior }) => sum + prior, 0)
  const countOf = (id: string) => closed.filter(({ found }) => found === id).length
  const counted = causes.reduce((sum, { id }) => sum + countOf(id), 0)
  return {
    closed: closed.length,
    priors: causes.map(({ id, prior }) => {
      const share = ((prior / whole) * REVIEWS_LEAST + countOf(id)) / (REVIEWS_LEAST + counted)
      const own = closed.length >= REVIEWS_LEAST ? share * whole : null
      return { cause: id, usual: prior, own, found: countOf(id) }
    }),
  }
}

/** For `rank`: a shop's own figures; none before there are enough. */
export const ownPriors = ({ priors }: Priors): Readonly<Record<string, number>> =>
  Object.fromEntries(priors.flatMap(({ cause, own }) => (own === null ? [] : [[cause, own]])))
