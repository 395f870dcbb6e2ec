import { devicesOf } from '../devices/fold.ts'
import { mostRiseDb } from '../devices/level.ts'
import { openHours } from '../shop/hours.ts'
import { settingsOf } from '../shop/settings.ts'
import type { State } from '../state.ts'
import { ESCALATE_MS, RISE_DB } from './kinds.ts'

/** How a shop's bells rise while nobody acknowledges them. */
export type BellRules = {
  /** When a bell reaches further, ms after it was raised. */
  readonly escalateMs: readonly [number, number]
  /** How much louder it is at each of these steps, dB. */
  readonly riseDb: number
  /** How much louder it may be at all, dB. */
  readonly mostRiseDb: number
  /** Whether the shop is open at an instant, UTC ms; always where it has set no hours. */
  readonly isOpen: (ms: number) => boolean
}

/** The rules of a shop that has set nothing. */
export const USUAL_RULES: BellRules = {
  escalateMs: ESCALATE_MS,
  riseDb: RISE_DB,
  mostRiseDb: Number.POSITIVE_INFINITY,
  isOpen: () => true,
}

export function bellRules(state: State): BellRules {
  const settings = settingsOf(state)
  const { escalateAfterS: after, riseDb = RISE_DB } = settings.bells ?? {}
  return {
    escalateMs: after ? [after.first * 1_000, after.second * 1_000] : USUAL_RULES.escalateMs,
    riseDb,
    mostRiseDb: mostRiseDb(devicesOf(state).levels),
    isOpen: openHours(settings) ?? USUAL_RULES.isOpen,
  }
}
