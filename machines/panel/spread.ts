import type { Draft } from '../envelope.ts'
import { coversStart, lastCoat, type PanelContext } from './context.ts'

/**
 * The finishes of a pass are spread backwards from the press that ended it. Where a coat's real start
 * becomes known only later, it may lie behind such a finish: but a coat never ends before it began.
 */

/** The start that lies behind a spread finish of a coat that is not running. */
function startBehind(
  panel: PanelContext,
  finish: Draft,
  later: readonly Draft[],
): Draft | undefined {
  const { passEndsAt } = finish.data
  const isAlone = finish.type === 'CoatFinished' && typeof passEndsAt === 'number' && !panel.open
  return isAlone ? later.find((e) => e.type === 'CoatStarted' && e.at < passEndsAt) : undefined
}

/**
 * A panel's entries, with the start of a coat before its finish, which then is at that instant.
 * @param panel before the entry of that place
 */
export function withStartFirst(
  panel: PanelContext,
  entries: readonly Draft[],
  place: number,
): readonly Draft[] {
  const finish = entries[place]
  if (finish?.data.passEndsAt === undefined) return entries
  const later = entries.slice(place + 1)
  const start = startBehind(panel, finish, later)
  if (!start) return entries
  const behind = later.indexOf(start) + 1
  const moved = { ...finish, at: start.at }
  return [...entries.slice(0, place), ...later.slice(0, behind), moved, ...later.slice(behind)]
}

/** Whether an entry is the real start of the last coat, whose start was only estimated. */
export function isStartBehind(panel: PanelContext, entry: Draft): boolean {
  const last = lastCoat(panel)
  return entry.type === 'CoatStarted' && coversStart(last, entry.at) && last.isEstimated
}
