import type { CupContext } from '../../machines/cup/machine.ts'
import type { JobContext } from '../../machines/job/machine.ts'
import type { PanelContext } from '../../machines/panel/context.ts'
import { isCoating, routeState } from '../../machines/panel/where.ts'
import type { Standing } from '../../machines/stepper.ts'

/** What a chart keeps beside its state: each field, whether it is set, and whether its state is. */
export type Kept = readonly (readonly [field: string, isSet: boolean, isInState: boolean])[]

export function keptOfPanel({ value, context }: Standing<PanelContext, unknown>): Kept {
  const where = routeState(value)
  return [
    ['open', context.open !== null, isCoating(where)],
    ['cure', context.cure !== null, where === 'cure.running'],
    ['passedAt', context.passedAt !== null, where === 'passed'],
  ]
}
export const keptOfCup = ({ value, context }: Standing<CupContext, unknown>): Kept => [
  ['emptiedAt', context.emptiedAt !== null, value === 'emptied'],
]
export const keptOfJob = ({ value, context }: Standing<JobContext, unknown>): Kept => [
  ['closedAt', context.closedAt !== null, value === 'closed'],
]

/** The fields that are set in a state that they do not belong to, or missing in their own. */
export const wrongIn = (kept: Kept): string[] =>
  kept.flatMap(([field, isSet, isInState]) => (isSet === isInState ? [] : [field]))
