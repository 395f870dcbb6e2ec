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

/** What lets go of coats: of thousands of readings none is asked. */
const LETS_GO: readonly string[] = ['ZoneSaved', 'ZoneCleared']

/**
 * Whether coats that a zone has let go of for more than twelve hours would come back without, or with, an entry.
 * @param now UTC ms
 */
export function bringsBack(before: State, after: State, about: About, now: number): boolean {
  const { type, zone } = about
  if (zone === undefined || !LETS_GO.includes(type)) return false
  const [was, is] = [letGoIn(before, zone, now), letGoIn(after, zone, now)]
  return is.untilMs < was.untilMs || was.clearings.some((at) => !is.clearings.includes(at))
}

type About = { readonly type: string; readonly zone?: string }

/**
 * A zone that is saved late, without the time that it let go of coats by meanwhile: the entry says until when these are
 * clear. Some have evicted them by then, and nobody knew.
 */
export function savedLate(d: Deciding, zone: string, fact: NewFact): NewFact {
  if (d.isLive) return fact
  const after = stamp(d, [fact]).reduce(fold, d.state)
  if (!bringsBack(d.state, after, { type: fact.type, zone }, d.now)) return fact
  return { ...fact, data: { ...fact.data, airedUntil: airedBy(d.now) } }
}
