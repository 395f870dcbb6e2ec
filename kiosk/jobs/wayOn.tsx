import type { RouteStep } from '../../machines/commands.ts'
import { type RouteProblem, routeProblems } from '../../machines/plan/routeProblems.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { useWords } from '../commands/shop.ts'
import { hashOf } from '../ui/route.ts'
import * as own from '../words/wayOn.ts'
import { useOwnWords } from '../words/words.ts'

type Props = {
  readonly route: readonly RouteStep[]
  readonly sheets: readonly Sheet[]
  /** The steps before this one have their work on them: what is wrong with those is over. */
  readonly from?: number
}

/** Where a route that is being made would end without a way on, and the sheet that could open one. */
export function WayOn({ route, sheets, from = 0 }: Props) {
  const say = useOwnWords(own)
  const { stage } = useWords()
  const problems = routeProblems(route, sheets).filter(({ at }) => at >= from)
  const text = (problem: RouteProblem): string => {
    const step = problem.at + 1
    switch (problem.code) {
      case 'noCure':
        return say.noCure(step, problem.sheet.name)
      case 'never':
        return say.never(step, problem.sheet.name, problem.under.name)
      case 'noSheet':
        return say.noSheet(step, stage[route[problem.at]?.stage ?? 'base'])
    }
  }
  return (
    <>
      {problems.map((problem) => (
        <div key={problem.at} data-no-way={problem.code} class="stack">
          <p class="sentence" role="alert">
            {text(problem)}
          </p>
          {problem.code !== 'noSheet' && (
            <a class="button" href={hashOf('setup', 'sheets', problem.sheet.sheet, 'edit')}>
              {say.toSheet(problem.sheet.name)}
            </a>
          )}
        </div>
      ))}
    </>
  )
}
