import type { Format } from '../units/format.ts'

/** Days as text on the shop's calendar. Pure. */

const DAY_MS = 86_400_000

/** 2026-11-28, by the shop's clock. */
export function dayText(ms: number, { instant }: Pick<Format, 'instant'>): string {
  const utc = new Date(ms).toISOString().slice(0, 16)
  // What the shop's clock is ahead of UTC at that instant.
  const aheadMs = Date.parse(`${utc}Z`) - instant(utc)
  return new Date(ms + aheadMs).toISOString().slice(0, 10)
}

/** Noon of a typed day, so that no change of clocks makes it another; null for what is no day. */
export function noonOf(day: string, { instant }: Pick<Format, 'instant'>): number | null {
  const typed = day.trim()
  const at = /^\d{4}-\d\d-\d\d$/.test(typed) ? instant(`${typed}T12:00`) : Number.NaN
  return Number.isNaN(at) || at % 1 !== 0 || at < -DAY_MS ? null : at
}
