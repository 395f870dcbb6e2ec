import type { Draft } from './envelope.ts'
import { liveIn } from './live.ts'
import { routeState } from './panel/where.ts'
import { MINUTE_MS } from './refusals.ts'
import { type State, thingOf } from './state.ts'

/** A cup, panel or job that was named and is not known, and the entries that wait for it. */
export type Awaited = {
  readonly kind: 'cup' | 'panel' | 'job'
  readonly id: string
  /** When the first of them came, UTC ms. */
  readonly sinceMs: number
  /** When the first of them happened, UTC ms: it was there by then. */
  readonly byMs: number
  readonly entries: readonly string[]
}

/** Another kiosk may be about to send what is missing: so long nothing is said. */
const PATIENCE_MS = 10 * MINUTE_MS

/** When an entry came to the log; one that is only foreseen here, when it was pressed. */
const cameAt = (entry: Draft & { readonly recordedAt?: number }): number =>
  entry.recordedAt ?? entry.enteredAt

function awaited(kind: Awaited['kind'], id: string, entries: readonly Draft[]): Awaited[] {
  if (entries.length === 0) return []
  return [
    {
      ...{ kind, id, entries: entries.map((e) => e.id) },
      sinceMs: Math.min(...entries.map(cameAt)),
      byMs: Math.min(...entries.map((e) => e.at)),
    },
  ]
}

const namesJob = ({ outside }: Draft): boolean =>
  outside?.some(({ code }) => code === 'jobUnknown') ?? false

/** The jobs that are not known, with all that was said of them, of their panels and of their cups. */
function jobsAwaited({ things }: State): Awaited[] {
  const all = [things.job, things.panel, things.cup].flatMap((ofKind) =>
    Object.values(ofKind).flatMap(({ entries }) => liveIn(entries).filter(namesJob)),
  )
  const each = new Map(all.map((entry) => [entry.id, entry]))
  const byJob = Map.groupBy([...each.values()], ({ job }) => job ?? '')
  return [...byJob].flatMap(([id, entries]) => {
    const isKnown = Object.hasOwn(things.job, id) && things.job[id]?.value !== 'unknown'
    return isKnown ? [] : awaited('job', id, entries)
  })
}

/** When it is time to say so, UTC ms. */
export const isLongAt = ({ sinceMs }: Awaited): number => sinceMs + PATIENCE_MS

/**
 * What was named ten minutes ago and is not known yet, the longest first.
 * @param now UTC ms
 */
export const longAwaited = (state: State, now: number): Awaited[] =>
  allAwaited(state).filter((one) => isLongAt(one) <= now)

/** What was named and is not known yet, the longest first. */
export function allAwaited(state: State): Awaited[] {
  const { cup, panel } = state.things
  const cups = Object.entries(cup).flatMap(([id, { value, entries }]) => {
    const live = value === 'unmixed' ? liveIn(entries) : []
    // A cup that was poured is known: it waits for the one that it was poured from.
    return live.some((e) => e.data.role === 'child') ? [] : awaited('cup', id, live)
  })
  const panels = Object.entries(panel).flatMap(([id, { value, entries }]) =>
    routeState(value) === 'unknown' ? awaited('panel', id, liveIn(entries)) : [],
  )
  return [...cups, ...panels, ...jobsAwaited(state)].sort(
    (a, b) => a.sinceMs - b.sinceMs || (a.id < b.id ? -1 : 1),
  )
}

/** Since when a cup is used that nobody recorded, UTC ms; null for one that is known, or never named. */
export function usedSince(state: State, id: string): number | null {
  const thing = thingOf(state, { kind: 'cup', id })
  if (thing?.value !== 'unmixed') return null
  const first = liveIn(thing.entries)[0]
  return first?.at ?? null
}
