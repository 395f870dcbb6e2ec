import { type Kind, streamsOf, type ThingRef } from './catalog.ts'
import { readingsOf } from './climate/fold.ts'
import type { Climate } from './clock/air.ts'
import { endsAt, type Interval, lastBefore, STALE_MS } from './clock/line.ts'
import { potClimate, tracksOf } from './cup/ends.ts'
import type { PotClock } from './cup/machine.ts'
import type { Draft } from './envelope.ts'
import { thingBefore } from './fold.ts'
import { climateOf } from './panel/climate.ts'
import type { PanelContext } from './panel/context.ts'
import { cureEndsAt } from './panel/cureClock.ts'
import { isJobClosed } from './panel/find.ts'
import { LATEST } from './panel/gate.ts'
import { firstCoats, openLayers, withinFirst, withoutPart } from './panel/layers.ts'
import { routeState } from './panel/where.ts'
import { MINUTE_MS } from './refusals.ts'
import { sheetAt } from './sheet/fold.ts'
import { HEATS, heatWaits } from './sheet/heatFlash.ts'
import { blindOf, curesOf, intervalsOf, type Opens, overFigures } from './sheet/intervals.ts'
import { FOREVER_MS, type Span } from './spans.ts'
import { contextOf, type State, thingOf, withThing } from './state.ts'

/**
 * The clocks that stand on open work, and the air that they rest on. What they rest on is held;
 * what nothing rests on is evicted.
 */

/** What has clocks. */
const CLOCKED: readonly Kind[] = ['panel', 'cup', 'gun']

/** A stretch of a zone's air. */
export type ZoneSpan = Span & { readonly zone: string }

const DAY_MS = 24 * 60 * MINUTE_MS
/** Zones, guns and devices hold at least what happened in these last hours. */
export const TAIL_MS = 2 * DAY_MS
/** Of the air that one clock rests on at most so much is held. */
const CLIMATE_MOST_MS = 14 * DAY_MS
/** No bake lasts longer; one that nobody measures or ends does not hold the air of weeks. */
const BAKE_MOST_MS = 2 * DAY_MS

/** A clock, or several that began together: from when, until when each of them at the latest, in which zones. */
type Standing = {
  readonly startMs: number
  readonly endsMs: () => readonly number[]
  readonly stays: Stays
}
type Stays = readonly { readonly fromMs: number; readonly zone: string }[]

/** When a clock is over for certain: also by the longest of its sheet's figures. */
function overAt(interval: Interval, startMs: number, climate: Climate): number {
  const longest = Math.max(...interval.points.map((p) => p.minutes))
  return Math.max(endsAt(interval, startMs, climate) ?? FOREVER_MS, startMs + longest * MINUTE_MS)
}

/** A wait before heat that nobody has typed yet: once it is, it counts from the coat. */
const NOT_KNOWN: Interval = {
  kind: 'notBefore',
  points: [{ atC: 20, minutes: CLIMATE_MOST_MS / MINUTE_MS }],
}

/**
 * Window and flashes of a coat, also before heat, with what the products of the steps to come say of
 * going over it.
 */
function coatIntervals(state: State, panel: PanelContext, opens: Opens): Interval[] {
  const overs = panel.route.map((s) => overFigures(sheetAt(state, s.sheet, LATEST)?.sheet, opens))
  return [
    ...intervalsOf(opens),
    ...HEATS.flatMap((heat) => heatWaits(state, opens, heat) ?? NOT_KNOWN),
    ...overs.flatMap(({ flashBeforeNext, recoatWithin: within }): Interval[] => [
      ...flashBeforeNext,
      ...(within === null || typeof within === 'string'
        ? []
        : [{ kind: 'notAfter' as const, points: within, ...blindOf(opens) }]),
    ]),
  ]
}

/** On these panels nothing is waited for. What is said of one that has passed is judged by its clocks all the same. */
const OVER: readonly string[] = ['unknown', 'passed', 'removed']

function panelClocks(state: State, id: string, isNamed: boolean): Standing[] {
  const thing = thingOf(state, { kind: 'panel', id })
  const where = thing && routeState(thing.value)
  if (!where || (OVER.includes(where) && !(isNamed && where === 'passed'))) return []
  const panel = thing.context
  if (isJobClosed(state, panel.job)) return []
  const { stays, cure } = panel
  // Only a clock whose end is asked for is calculated.
  let climate: Climate | null = null
  const air = () => {
    climate ??= climateOf(state, panel)
    return climate
  }
  const ends = (intervals: readonly Interval[], startMs: number) => [
    startMs,
    ...intervals.map((interval) => overAt(interval, startMs, air())),
  ]
  // Under a part that was broken off the window of the coat before goes on.
  const under = withoutPart(panel)
  const layers = [panel, ...(under ? [under] : [])].flatMap((one) =>
    openLayers(one, panel.route.length),
  )
  const coatClocks = layers.map(({ coat, opens }) => ({
    startMs: coat.finishedAt,
    endsMs: () => ends(coatIntervals(state, panel, opens), coat.finishedAt),
    stays,
  }))
  const firstClocks = firstCoats(panel).map(({ finishedAt, opens }) => ({
    startMs: finishedAt,
    endsMs: () => ends(withinFirst(opens), finishedAt),
    stays,
  }))
  const cureClock = cure && {
    startMs: cure.startedAt,
    endsMs: () => {
      const airs = cure.mode === 'air' ? curesOf(cure.figures).flatMap(({ air }) => air ?? []) : []
      const end = cureEndsAt(state, panel) ?? cure.startedAt + BAKE_MOST_MS
      return [end, ...ends(airs, cure.startedAt)]
    },
    stays,
  }
  return [...coatClocks, ...firstClocks, ...(cureClock ? [cureClock] : [])]
}

const potClocks = (state: State, clocks: readonly PotClock[]): Standing[] =>
  clocks.flatMap((clock) => {
    const { interval, startMs } = clock
    const endsMs = () => [overAt(interval, startMs, potClimate(state, clock))]
    const { own, use } = tracksOf(clock)
    const usedAt = use[0] ? [{ startMs: Math.max(startMs, use[0].fromMs), endsMs, stays: use }] : []
    return [{ startMs, endsMs, stays: own }, ...usedAt]
  })

/** @param isNamed whether a command is about it, and not only what stands is asked for */
function clocksOf(state: State, { kind, id }: ThingRef, isNamed = false): Standing[] {
  if (kind === 'panel') return panelClocks(state, id, isNamed)
  if (kind === 'gun') {
    const loads = contextOf(state, 'gun', id)?.loads ?? []
    return potClocks(
      state,
      loads.flatMap((load) => load.clocks),
    )
  }
  const cup = kind === 'cup' ? contextOf(state, 'cup', id) : undefined
  if (!cup) return []
  return potClocks(state, [...cup.clocks, ...(cup.induction ? [cup.induction] : [])])
}

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

/** The air that clocks rest on and that was evicted before they began to be known, or to stand again. */
const airOfClocksMissing = (
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
      stays.some(({ zone }) => !isAirHeld(state, { zone, fromMs: startMs - STALE_MS, toMs: now })),
    )
    .flatMap((clock) => airRestedOn(clock, now))
    .filter((span) => !isAirHeld(state, span))

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
  const missing = tails.filter((span) => !isAirHeld(state, span))
  return [...missing, ...airOfClocksMissing(state, refs, now, thenMs)]
}

/** The panels, cups and guns that one state does not hold as another held them. */
function changedIn(before: State, after: State): ThingRef[] {
  const refs: ThingRef[] = []
  for (const kind of CLOCKED) {
    const [held, known] = [after.things[kind], before.things[kind]]
    if (held !== known) for (const id in held) if (held[id] !== known[id]) refs.push({ kind, id })
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
    (type === 'ClimateRead' && at < now - TAIL_MS)
  if (!entries.some(isOfAny)) return changedIn(before, after)
  const voids = entries.filter(({ type }) => type === 'EntryVoided')
  return [
    ...voids.flatMap(streamsOf).filter(({ kind }) => kind === 'zone'),
    ...CLOCKED.flatMap((kind) => Object.keys(after.things[kind]).map((id) => ({ kind, id }))),
  ]
}
