import { UNDONE_MS } from '../climate/fold.ts'
import { liveIn } from '../live.ts'
import { MINUTE_MS } from '../refusals.ts'
import { FOREVER_MS } from '../spans.ts'
import { contextOf, type State, thingOf } from '../state.ts'
import type { Thing } from '../things.ts'
import { hasIsocyanate } from './breathing.ts'
import { zoneAt } from './context.ts'

/** Which panels are held for the air of their zones: fetched with what evicts, after a first Wall. */

/** Every such coat is held for so long, as it may be taken back; of those of before only the last of each zone. */
const EACH_MS = 7 * 24 * 60 * MINUTE_MS

const isocyanateIn = (state: State, { context: panel }: Thing<'panel'>, zone: string) =>
  panel.coats.filter((coat) => zoneAt(panel, coat.startedAt) === zone && hasIsocyanate(state, coat))

/** Whether a job is known, and closed or done: what was done on another may still be taken back, however long ago. */
export type IsOver = (job: string) => boolean

type Last = { readonly untilMs: number; readonly ofZone: Map<string, number> }
/** Every panel whose job is over asks for it, by the same things. */
const last = new WeakMap<State['things'], Last>()

/**
 * When the last coat of isocyanates in a zone until an instant ended, UTC ms, of jobs that are over. The panel that it
 * is on is held by whoever folds.
 */
function lastCoatIn(state: State, zone: string, untilMs: number, isOver: IsOver): number {
  let known = last.get(state.things)
  if (known?.untilMs !== untilMs) {
    known = { untilMs, ofZone: new Map() }
    last.set(state.things, known)
  }
  const found = known.ofZone.get(zone) ?? lastOfAllIn(state, zone, untilMs, isOver)
  known.ofZone.set(zone, found)
  return found
}

function lastOfAllIn(state: State, zone: string, untilMs: number, isOver: IsOver): number {
  const ended = Object.values(state.things.panel).map((thing) => {
    const coats = isocyanateIn(state, thing, zone).filter((coat) => coat.finishedAt <= untilMs)
    const at = Math.max(0, ...coats.map(({ finishedAt }) => finishedAt))
    return at > 0 && isOver(thing.context.job) ? at : 0
  })
  return Math.max(0, ...ended)
}

/** When a zone was found clear, each time, UTC ms. */
function clearingsOf(state: State, zone: string): number[] {
  const entries = thingOf(state, { kind: 'zone', id: zone })?.entries ?? []
  const told = entries.filter(({ type }) => type === 'ZoneCleared' || type === 'EntryVoided')
  return liveIn(told).map(({ at }) => at)
}

/**
 * Whether a panel stays in the state although its job is over: of a zone without a clearance time the
 * last coat is held until a person has cleared it, so that no week and no month takes the mask off.
 * @param now UTC ms
 */
export function isHeldForAir(
  state: State,
  thing: Thing<'panel'>,
  now: number,
  isOver: IsOver,
): boolean {
  const zones = new Set(thing.context.stays.map(({ zone }) => zone))
  return [...zones].some((id) => {
    const zone = contextOf(state, 'zone', id)
    if (zone?.clearsSince !== undefined && zone.clearsSince + UNDONE_MS <= now) return false
    const clearings = clearingsOf(state, id)
    return isocyanateIn(state, thing, id).some(({ finishedAt }) => {
      if (finishedAt <= (zone?.airedUntil ?? 0)) return false
      // What the first clearing let go of comes back by no later one.
      const clearedAt = clearings.find((at) => at >= finishedAt) ?? FOREVER_MS
      const isLast = () => finishedAt >= lastCoatIn(state, id, now - EACH_MS, isOver)
      return now < clearedAt + UNDONE_MS && isLast()
    })
  })
}
