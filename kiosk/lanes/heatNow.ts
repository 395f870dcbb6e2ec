import { airAt } from '../../machines/clock/line.ts'
import { climateOf } from '../../machines/panel/climate.ts'
import type { PanelContext } from '../../machines/panel/context.ts'
import { coolFrom } from '../../machines/panel/roomHeat.ts'
import type { RefusalCode } from '../../machines/refusals.ts'
import { curesOf } from '../../machines/sheet/intervals.ts'
import type { State } from '../../machines/state.ts'
import type { Moment } from './moment.ts'

/** Whether a cure in air stands still, because its air is colder now than its sheet says. */
export function isColdNow(state: State, panel: PanelContext, now: number): boolean {
  if (panel.cure?.mode !== 'air') return false
  const least = curesOf(panel.cure.figures).flatMap(({ air }) => air?.leastC ?? [])
  const airC = airAt(climateOf(state, panel), now)?.airC
  return airC !== undefined && least.some((leastC) => airC < leastC)
}

/** When a panel is cool after its last heat; null where it is, or was in none. */
export function hotUntil(state: State, panel: PanelContext, moment: Moment): number | null {
  const coolAt = coolFrom(state, panel, moment.ms)
  return coolAt === null || moment.isPast(coolAt) ? null : coolAt
}

/** Refusals that may be about a part that is hot: it is measured, or left to cool. */
export const HOT_FORBIDS: readonly RefusalCode[] = ['partHot', 'notReady', 'sandEarly']

type Forbidden = { readonly code: RefusalCode; readonly clearsAt?: number }

/** Whether a refusal ends once the part is cool: not where its film takes longer. */
export const endsCool = ({ code, clearsAt }: Forbidden, coolAt: number | null): boolean =>
  coolAt !== null && clearsAt !== undefined && clearsAt <= coolAt && HOT_FORBIDS.includes(code)
