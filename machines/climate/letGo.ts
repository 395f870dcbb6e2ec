import { liveIn } from '../live.ts'
import { FOREVER_MS } from '../spans.ts'
import type { Thing } from '../things.ts'
import { UNDONE_MS } from './fold.ts'

/** What a zone has let go of for good: some who hold the shop have evicted it, and nothing brings it back to all of them. */

/** The clearings that may not be taken back any more, and until when a clearance time let go of coats, UTC ms. */
function letGoIn({ context, entries }: Thing<'zone'>, now: number) {
  const isPast = (at: number) => at + UNDONE_MS <= now
  const { clearsSince, airedUntil = 0 } = context
  const isTimed = clearsSince !== undefined && isPast(clearsSince)
  const cleared = liveIn(entries).filter(({ type, at }) => type === 'ZoneCleared' && isPast(at))
  return { untilMs: isTimed ? FOREVER_MS : airedUntil, clearings: cleared.map(({ at }) => at) }
}

/**
 * Whether a change of a zone's past would bring back coats that it has let go of for more than twelve hours.
 * @param now UTC ms
 */
export function bringsBack(before: Thing<'zone'>, after: Thing<'zone'>, now: number): boolean {
  const [was, is] = [letGoIn(before, now), letGoIn(after, now)]
  return is.untilMs < was.untilMs || was.clearings.some((at) => !is.clearings.includes(at))
}
