import { DAY_MS, isAlwaysReduced, type Keeping } from './keep.ts'

/** Whether a mix has reducer in it: named, or part of every mix of its sheet. */
export const isReduced = (sheet: Keeping, reducer: string | undefined): boolean =>
  reducer !== undefined || isAlwaysReduced(sheet)

/** Until when a mix without activator keeps: from when it is poured, and shorter from its reducer on. */
export function keepsUntil(
  { keepDays, keepDaysReduced }: Keeping,
  pouredAt: number,
  hasReducer: boolean,
): number | null {
  const days = [keepDays, hasReducer ? keepDaysReduced : undefined].filter((n) => n !== undefined)
  return days.length === 0 ? null : pouredAt + Math.min(...days) * DAY_MS
}
