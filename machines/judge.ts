import type { Broken, Draft, Override } from './envelope.ts'
import {
  inOrder,
  isNoted,
  overridableBy,
  type Problem,
  REFUSALS,
  type Refusal,
  refusalOf,
} from './refusals.ts'

/** A command's override of refusals. Without codes it covers all that can be overridden. */
export type OverrideWish = {
  readonly reason: string
  readonly codes?: readonly string[] | undefined
}

export type Marks = Pick<Draft, 'outside' | 'override' | 'notJudged'>

export type Verdict =
  | { readonly refusal: Refusal }
  | {
      /** What an entry about a panel (or about everything, without one) has to carry. */
      readonly marks: (panel?: string) => Marks
    }

const brokenBy = ({ code, limit, value }: Problem): Broken => ({ code, limit, value })

function covers(wish: OverrideWish | undefined, problem: Problem): boolean {
  if (!wish || overridableBy(problem) === null) return false
  return wish.codes === undefined || wish.codes.includes(problem.code)
}

function marksOf(
  problems: readonly Problem[],
  wish: OverrideWish | undefined,
  notJudged: readonly string[],
): Marks {
  const covered = problems.filter((p) => covers(wish, p))
  const open = problems.filter((p) => !covers(wish, p))
  const override: Override | undefined =
    wish && covered.length > 0
      ? {
          reason: wish.reason,
          codes: [...new Set(covered.map((p) => p.code))],
          broken: covered.map(brokenBy),
        }
      : undefined
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
}): Verdict {
  const problems = inOrder(given.problems)
  const stops = problems.filter((p) =>
    given.isLive ? !covers(given.override, p) && !isNoted(p) : REFUSALS[p.code].isNonsense,
  )
  if (stops.length > 0) return { refusal: refusalOf(stops) }
  return {
    marks: (panel) =>
      marksOf(
        problems.filter((p) => panel === undefined || p.panel === undefined || p.panel === panel),
        given.override,
        given.notJudged?.get(panel ?? '') ?? [],
      ),
  }
}
