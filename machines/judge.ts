import type { Broken, Draft, Override } from './envelope.ts'
import {
  inOrder,
  isNoted,
  mayOverride,
  type Problem,
  REFUSALS,
  type Refusal,
  type RefusalCode,
  refusalOf,
} from './refusals.ts'

/** A command's override of refusals. Without codes it covers all that can be overridden. */
export type OverrideWish = {
  readonly reason: string
  readonly codes?: readonly string[] | undefined
}

/** An override of before that covers a problem of the same code, of one panel. */
export type Standing = {
  readonly code: RefusalCode
  readonly reason: string
  readonly panel: string
}

export type Marks = Pick<Draft, 'outside' | 'override' | 'notJudged'>

export type Verdict =
  | { readonly refusal: Refusal }
  | {
      /** What an entry about a panel (or about everything, without one) has to carry. */
      readonly marks: (panel?: string) => Marks
    }

const brokenBy = ({ code, limit, value }: Problem): Broken => ({ code, limit, value })

type Wishes = {
  readonly wish: OverrideWish | undefined
  readonly standing: readonly Standing[]
  readonly mayLead: boolean
}

/** The reason for which a problem is overridden; undefined where it is not. */
function reasonFor({ wish, standing, mayLead }: Wishes, problem: Problem): string | undefined {
  if (!mayOverride(problem, mayLead)) return undefined
  if (wish && (wish.codes === undefined || wish.codes.includes(problem.code))) return wish.reason
  return standing.find((s) => s.code === problem.code && s.panel === problem.panel)?.reason
}

function marksOf(
  problems: readonly Problem[],
  wishes: Wishes,
  notJudged: readonly string[],
): Marks {
  const isCovered = (p: Problem) => reasonFor(wishes, p) !== undefined
  const covered = problems.filter(isCovered)
  const open = problems.filter((p) => !isCovered(p))
  const reason = covered[0] && reasonFor(wishes, covered[0])
  const override: Override | undefined =
    reason === undefined
      ? undefined
      : {
          reason: wishes.wish?.reason ?? reason,
          codes: [...new Set(covered.map((p) => p.code))],
          broken: covered.map(brokenBy),
        }
  return {
    ...(override ? { override } : {}),
    ...(open.length > 0 ? { outside: open.map(brokenBy) } : {}),
    ...(notJudged.length > 0 ? { notJudged } : {}),
  }
}

/**
 * Judges a command. A live one is refused for every problem that no override covers; a late fact is
 * refused only for what makes no sense, everything else is kept on its entry as `outside`.
 */
export function judge(given: {
  readonly isLive: boolean
  readonly now: number
  readonly problems: readonly Problem[]
  readonly notJudged?: ReadonlyMap<string, readonly string[]>
  readonly override?: OverrideWish | undefined
  readonly standing?: readonly Standing[]
  /** Whether who pressed may do what a lead may; where nobody asks, nothing is for a lead alone. */
  readonly mayLead?: boolean
}): Verdict {
  const { override: wish, standing = [], mayLead = true } = given
  const wishes = { wish, standing, mayLead }
  const problems = inOrder(given.problems)
  const stops = problems.filter((p) =>
    given.isLive ? reasonFor(wishes, p) === undefined && !isNoted(p) : REFUSALS[p.code].isNonsense,
  )
  if (stops.length > 0) return { refusal: refusalOf(stops, mayLead) }
  return {
    marks: (panel) =>
      marksOf(
        problems.filter((p) => panel === undefined || p.panel === undefined || p.panel === panel),
        wishes,
        given.notJudged?.get(panel ?? '') ?? [],
      ),
  }
}

/** Two judgements of one fact: each limit that either of them found broken. */
export function joinedMarks(one: Marks = {}, other: Marks): Marks {
  const outside = [...(one.outside ?? []), ...(other.outside ?? [])]
  return { ...other, ...one, ...(outside.length > 0 ? { outside } : {}) }
}
