import { type Breathing, breathingIn } from '../../machines/panel/breathing.ts'
import type { State } from '../../machines/state.ts'
import { momentOf, type Now } from '../lanes/moment.ts'

/**
 * The zones in which the air-fed mask stays on, each by its id and once, by what lasts longest: a coat
 * that runs, then what ends by no clock, then the latest time.
 * @param now kiosk time, UTC ms
 */
export function breathingZones(state: State, now: Now): Breathing[] {
  const moment = momentOf(now)
  const worst = new Map<string, Breathing>()
  for (const one of breathingIn(state)) {
    if (one.untilMs !== null && moment.isPast(one.untilMs)) continue
    const known = worst.get(one.zone)
    if (!known || rankOf(one) > rankOf(known)) worst.set(one.zone, one)
  }
  return [...worst.values()]
}

const rankOf = ({ isSpraying, untilMs }: Breathing): number =>
  isSpraying ? Number.POSITIVE_INFINITY : (untilMs ?? Number.MAX_SAFE_INTEGER)
