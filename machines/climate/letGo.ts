import type { Deciding, NewFact } from '../deciding.ts'
import { fold } from '../fold.ts'
import { liveIn } from '../live.ts'
import { FOREVER_MS } from '../spans.ts'
import { stamp } from '../stamp.ts'
import { type State, thingOf } from '../state.ts'
import { airedBy, UNDONE_MS } from './fold.ts'

/** What a zone has let go of for good: some who hold the shop have evicted it, and nothing brings it back to all of them. */

type LetGo = { readonly untilMs: number; readonly clearings: readonly number[] }

/** The clearings that may not be taken back any more, and until when a clearance time let go of coats, UTC ms. */
function letGoIn(state: State, zone: string, now: number): LetGo {
  const thing = thingOf(state, { kind: 'zone', id: zone })
  if (!thing) return { untilMs: 0, clearings: [] }
  const { context, entries } = thing
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
export function bringsBack(before: State, after: State, zone: string, now: number): boolean {
  const [was, is] = [letGoIn(before, zone, now), letGoIn(after, zone, now)]
  return is.untilMs < was.untilMs || was.clearings.some((at) => !is.clearings.includes(at))
}

/**
 * A zone that is saved late, without the time that it let go of coats by meanwhile: the entry says until when these are
 * clear. Some have evicted them by then, and nobody knew.
 */
export function savedLate(d: Deciding, zone: string, fact: NewFact): NewFact {
  const after = stamp(d, [fact]).reduce(fold, d.state)
  if (d.isLive || !bringsBack(d.state, after, zone, d.now)) return fact
  return { ...fact, data: { ...fact.data, airedUntil: airedBy(d.now) } }
}
