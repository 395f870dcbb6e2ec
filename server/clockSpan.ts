import type { ClockSpan } from '../machines/contract.ts'

const HOUR_MS = 3_600_000
const BEFORE_MS = 36 * HOUR_MS
const AFTER_MS = 48 * HOUR_MS

const clocks = new Map<string, Intl.DateTimeFormat | null>()

/** Null for a zone that this computer does not know, as in a log that comes from a newer one. */
function clockOf(timeZone: string): Intl.DateTimeFormat | null {
  try {
    // 2026-01-05 14:26:09
    return new Intl.DateTimeFormat('sv-SE', { dateStyle: 'short', timeStyle: 'medium', timeZone })
  } catch {
    return null
  }
}

/** What a clock shows, as if it were UTC, less UTC. */
const aheadMs = (clock: Intl.DateTimeFormat, ms: number): number =>
  Date.parse(`${clock.format(ms).replace(' ', 'T')}Z`) - Math.floor(ms / 1_000) * 1_000

/**
 * How far a shop's clocks are ahead of UTC about an instant: what a Wall shows lies within that span. No zone
 * changed its clocks twice within such a time since 1970, so that they did not change where both ends are
 * alike; a test holds that of the zones that it tries.
 * @param timeZone an IANA name; undefined for a shop that has none
 * @param now UTC ms
 * @returns null about a change of the clocks, without a zone, and for one that this computer does not know
 */
export function clockSpan(timeZone: string | undefined, now: number): ClockSpan | null {
  if (timeZone === undefined) return null
  const clock = clocks.get(timeZone) ?? clockOf(timeZone)
  clocks.set(timeZone, clock)
  if (clock === null) return null
  const [fromMs, untilMs] = [now - BEFORE_MS, now + AFTER_MS]
  const ahead = aheadMs(clock, fromMs)
  const isOne = ahead === aheadMs(clock, now) && ahead === aheadMs(clock, untilMs)
  return isOne ? { timeZone, aheadMs: ahead, fromMs, untilMs } : null
}
