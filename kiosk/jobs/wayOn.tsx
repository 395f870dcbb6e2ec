import type { RouteStep } from '../../machines/commands.ts'
import { routeProblems } from '../../machines/plan/routeProblems.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import type { State } from '../../machines/state.ts'
import { ProblemSaid } from '../lanes/problemSaid.tsx'

type Props = {
  readonly state: State
  readonly route: readonly RouteStep[]
  readonly sheets: readonly Sheet[]
  /** The steps before this one have their work on them: what is wrong with those is over. */
  readonly from?: number
}

/** Where a route that is being made would end without a way on, and the sheet that could open one. */
export function WayOn({ state, route, sheets, from = 0 }: Props) {
  const problems = routeProblems(route, sheets).filter(({ at }) => at >= from)
  return (
    <>
      {problems.map((problem) => (
        <div key={problem.at} data-no-way={problem.code} class="stack">
          <ProblemSaid {...{ problem, state, sheets }} stage={route[problem.at]?.stage ?? 'base'} />
        </div>
      ))}
    </>
  )
}
