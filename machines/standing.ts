import { type Kind, streamsOf, type ThingRef } from './catalog.ts'
import { readingsOf } from './climate/fold.ts'
import { sinceCool } from './climate/heats.ts'
import { lastBefore, STALE_MS } from './clock/line.ts'
import type { Draft } from './envelope.ts'
import { thingBefore } from './fold.ts'
import { putBetween } from './lineage.ts'
import { CLIMATE_MOST_MS, clocksOf, type Standing, type Stays } from './openClocks.ts'
import { MINUTE_MS } from './refusals.ts'
import { FOREVER_MS, type Span } from './spans.ts'
import { contextOf, type State, thingOf, withThing } from './state.ts'

/** The air that the clocks of open work rest on. What they rest on is held; what nothing rests on is evicted. */

/** What has clocks. */
const CLOCKED: readonly Kind[] = ['panel', 'cup', 'gun']

/** A stretch of a zone's air. */
export type ZoneSpan = Span & { readonly zone: string }

const DAY_MS = 24 * 60 * MINUTE_MS
/** Zones, guns and devices hold at least what happened in these last hours. */
export const TAIL_MS = 2 * DAY_MS

/** What changes the air that clocks rest on: what was read in a bake counts otherwise. */
const OF_AIR: readonly string[] = ['ClimateRead', 'CureStarted', 'CureEnded']

/**
 * The air that clocks rest on, up to now: from half an hour before, as a surface measured then counts. A flash that began
 * with a window of weeks rests on that of its own days.
 */
function airRestedOn({ startMs, endsMs, stays }: Standing, now: number): ZoneSpan[] {
  const latest = new Map<number, number>()
  for (const endMs of endsMs()) {
    const untilMs = Math.min(endMs, now)
    const sinceMs = Math.max(startMs - STALE_MS, untilMs - CLIMATE_MOST_MS)
    latest.set(sinceMs, Math.max(untilMs, latest.get(sinceMs) ?? 0))
  }
  return [...latest].flatMap(([sinceMs, untilMs]) => airIn(stays, sinceMs, untilMs))
}

const airIn = (stays: Stays, sinceMs: number, untilMs: number): ZoneSpan[] =>
  stays.flatMap((stay, i): ZoneSpan[] => {
    const fromMs = i === 0 ? sinceMs : Math.max(sinceMs, stay.fromMs)
    const toMs = Math.min(untilMs, stays[i + 1]?.fromMs ?? untilMs)
    return fromMs <= toMs ? [{ zone: stay.zone, fromMs, toMs }] : []
  })

/**
 * The air of before the last hours that the clocks of a panel, cup or gun rest on, up to now. Most began
 * within these hours, which every zone holds: where their air ends need not be calculated.
 */
export const oldAirUnder = (state: State, ref: ThingRef, now: number): ZoneSpan[] =>
  clocksOf(state, ref)
    .filter(({ startMs }) => startMs - STALE_MS < now - TAIL_MS)
    .flatMap((clock) => airRestedOn(clock, now))

/** Whether all readings are held that count in a stretch of air, with the one that held when it began. */
function isAirHeld(state: State, { zone, fromMs, toMs }: ZoneSpan): boolean {
  const heldMs = thingOf(state, { kind: 'zone', id: zone })?.heldMs
  if (heldMs === undefined) return true
  const held = heldMs.find((span) => span.fromMs <= fromMs && toMs <= span.toMs)
  if (held === undefined) return false
  const readings = readingsOf(state, zone)
  const first = lastBefore(readings, fromMs)
  // Of what was before the zone's first reading, that one counts.
  if (held.fromMs === 0 && !first) return (readings[0]?.at ?? FOREVER_MS) <= held.toMs
  return held.fromMs === 0 || (first !== undefined && first.at >= held.fromMs)
}

/**
 * The clocks of a thing at an instant of the past, and of each coat that has ended since: a late fact is
 * judged by what stood then, though a later coat has ended it.
 */
function clocksSince(state: State, ref: ThingRef, thenMs: number): Standing[] {
  const coats = ref.kind === 'panel' ? (contextOf(state, 'panel', ref.id)?.coats ?? []) : []
  const later = coats.map(({ finishedAt }) => finishedAt).filter((at) => at > thenMs)
  return [thenMs, ...later].flatMap((at) => {
    const thing = thingBefore(state, ref, at)
    return thing ? clocksOf(withThing(openThen(state, ref, at), ref, thing), ref, true) : []
  })
}

/** A state with the job of a panel as it was at an instant: what happened before its close still counts. */
function openThen(state: State, ref: ThingRef, at: number): State {
  const job = ref.kind === 'panel' ? contextOf(state, 'panel', ref.id)?.job : undefined
  if (job === undefined) return state
  const of = { kind: 'job', id: job } as const
  const then = thingBefore(state, of, at)
  return then ? withThing(state, of, then) : state
}

/** What of a stretch of air is not held, from the reading on that counts when it begins: nothing, or all of it. */
function missingOf(state: State, { zone, fromMs, toMs }: ZoneSpan): ZoneSpan[] {
  const since = sinceCool(state, zone, readingsOf(state, zone), fromMs)
  const span = { zone, fromMs: since, toMs }
  return isAirHeld(state, span) ? [] : [span]
}

/** The air that clocks rest on and that may have been evicted before they began to be known, or to stand again. */
const airOfClocksToAsk = (
  state: State,
  refs: readonly ThingRef[],
  now: number,
  thenMs: number | undefined,
): ZoneSpan[] =>
  refs
    .flatMap((ref) => [
      ...clocksOf(state, ref, thenMs !== undefined),
      ...(thenMs !== undefined && thenMs < now ? clocksSince(state, ref, thenMs) : []),
    ])
    // Most began in the last hours, all of which are held: their ends need not be calculated.
    .filter(({ startMs, stays }) =>
      stays.some(
        ({ zone }) => missingOf(state, { zone, fromMs: startMs - STALE_MS, toMs: now }).length > 0,
      ),
    )
    .flatMap((clock) => airRestedOn(clock, now))

/**
 * The air that is missing under the clocks of some things, and of the last hours of some zones: when
 * the reading that held at their beginning is voided, an older one that was evicted holds again.
 * @param now UTC ms
 * @param thenMs since when their clocks count for a command that is about them, UTC ms: earlier than now for what is said late
 */
export function airMissing(
  state: State,
  refs: readonly ThingRef[],
  now: number,
  thenMs?: number,
): ZoneSpan[] {
  const tails = refs.flatMap(({ kind, id }) =>
    kind === 'zone' ? [{ zone: id, fromMs: now - TAIL_MS, toMs: now }] : [],
  )
  const asked = [...tails, ...airOfClocksToAsk(state, refs, now, thenMs)]
  return asked.flatMap((span) => missingOf(state, span))
}

/** The panels, cups and guns that one state does not hold as another held them. */
function changedIn(before: State, after: State): ThingRef[] {
  const refs: ThingRef[] = []
  for (const kind of CLOCKED) {
    const [held, known] = [after.things[kind], before.things[kind]]
    if (held === known) continue
    const ids = new Set(putBetween(known, held) ?? Object.keys(held))
    for (const id of ids) if (held[id] !== known[id]) refs.push({ kind, id })
  }
  return refs
}

/**
 * The things whose clocks entries may have changed, and the zones of which they void a reading. What is said of a cup or
 * of where a panel was changes whatever took from that cup. What an entry takes back, or says of the air of long ago,
 * may be about any of them.
 * @param after the state with the entries
 * @param now UTC ms
 */
export function clocksChanged(
  before: State,
  after: State,
  entries: readonly Draft[],
  now: number,
): ThingRef[] {
  const isOfAny = ({ type, at }: Draft) =>
    ['EntryVoided', 'SheetSaved', 'JobReopened'].includes(type) ||
    (OF_AIR.includes(type) && at < now - TAIL_MS)
  if (!entries.some(isOfAny)) return changedIn(before, after)
  const voids = entries.filter(({ type }) => type === 'EntryVoided')
  return [
    ...voids.flatMap(streamsOf).filter(({ kind }) => kind === 'zone'),
    ...CLOCKED.flatMap((kind) => Object.keys(after.things[kind]).map((id) => ({ kind, id }))),
  ]
}
