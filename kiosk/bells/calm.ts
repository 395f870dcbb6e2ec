import type { ClockReading } from '../device/clock.ts'
import type { Open } from './open.ts'

/** Times between which none of the same bells falls due: while nothing rings, no look is needed. */
export type Calm = { readonly open: Open; readonly fromMs: number; readonly untilMs: number }

type Bounds = Pick<ClockReading, 'earliestMs' | 'latestMs'>

/** Null where a bell may be due by one end of what is known of the time, and not by the other. */
export function calmOf(open: Open, { earliestMs, latestMs }: Bounds): Calm | null {
  const coming = open.bells.map(({ dueAt }) => dueAt).filter((dueAt) => dueAt > earliestMs)
  const untilMs = Math.min(...coming)
  return latestMs < untilMs ? { open, fromMs: earliestMs, untilMs } : null
}

/** Whether it still holds: for the same bells, no later, and the clock was not set back. */
export const isStill = (calm: Calm, open: Open, { earliestMs, latestMs }: Bounds): boolean =>
  calm.open === open && earliestMs >= calm.fromMs && latestMs < calm.untilMs
