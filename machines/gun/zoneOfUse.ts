import type { CupContext } from '../cup/machine.ts'
import { dueStep, zoneOf } from '../panel/context.ts'
import { isInWork, routeState } from '../panel/where.ts'
import type { State } from '../state.ts'

/**
 * Where a cup that goes into a gun will be sprayed: the zone of the panels that wait for its product,
 * those of its own job first. Undefined where none does: on a job that is closed nothing waits any more.
 */
export function zoneOfUse({ things }: State, cup: CupContext): string | undefined {
  const waiting = Object.values(things.panel).filter(
    ({ value, context }) =>
      isInWork(routeState(value)) &&
      context.route[dueStep(context)]?.sheet === cup.sheet &&
      things.job[context.job]?.value !== 'closed',
  )
  const own = waiting.filter(({ context }) => cup.job === null || context.job === cup.job)
  const [first] = own.length > 0 ? own : waiting
  return first && zoneOf(first.context)
}
