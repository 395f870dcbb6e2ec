import { namedIn } from './bell/named.ts'
import type { Kind, ThingRef } from './catalog.ts'
import { CLEARANCE_MOST_MIN, readingsOf } from './climate/fold.ts'
import { coolIn, sinceCool } from './climate/heats.ts'
import { lastBefore } from './clock/line.ts'
import { keepEndsAt } from './cup/keep.ts'
import type { CupContext } from './cup/machine.ts'
import { DEVICES } from './devices/fold.ts'
import { withHeld } from './held.ts'
import { liveIn } from './live.ts'
import { isHeldForAir } from './panel/airHeld.ts'
import { isHeldForHeat } from './panel/heatHeld.ts'
import { routeState } from './panel/where.ts'
import { MINUTE_MS } from './refusals.ts'
import { settled, settledFromGun } from './settle.ts'
import { FOREVER_MS, joined, overlap, type Span } from './spans.ts'
import { oldAirUnder, TAIL_MS, type ZoneSpan } from './standing.ts'
import { type State, thingOf, withThing } from './state.ts'
import type { Thing } from './things.ts'

/**
 * What open work no longer needs is evicted from state; the log keeps it. The server and every kiosk
 * do it by this function, by the entries' own times and a clock that is right. When it is named
 * again it is folded again from the log (server/reload.ts).
 */

const HOUR_MS = 60 * MINUTE_MS
const WEEK_MS = 7 * 24 * HOUR_MS
/** A closed job stays for as long as a zone may take to be clear of what was sprayed on it. */
const CLOSED_MS = CLEARANCE_MOST_MIN * MINUTE_MS
const EMPTIED_MS = 12 * HOUR_MS
/** A gun holds its loads since its last cleaning, and this many before it. */
const LOADS_BEFORE = 20
/** Of a gun that nobody ever cleans, so many. */
const LOADS_MOST = 200

/** When a cup is over by the longest of the sheet's figures, whatever the air is. */
function overAt(state: State, cup: CupContext): number {
  const { clocks, mixedAt } = cup
  const ends = clocks.map(({ startMs, interval }) => {
    const longest = Math.max(...interval.points.map((p) => p.minutes))
    return startMs + longest * MINUTE_MS
  })
  return Math.max(mixedAt, keepEndsAt(state, cup) ?? 0, ...ends)
}

/** Whether what is not known may still come. */
const waits = (thing: Pick<Thing, 'entries'> | undefined, now: number): boolean =>
  now < (thing?.entries.at(-1)?.at ?? 0) + WEEK_MS

function isCupOpen(
  state: State,
  { value, context: cup, entries }: Thing<'cup'>,
  now: number,
): boolean {
  // It is not mixed yet: what was said of it waits for that.
  if (value === 'unmixed') return waits({ entries }, now)
  const untilMs =
    value === 'emptied' ? (cup.emptiedAt ?? 0) + EMPTIED_MS : overAt(state, cup) + WEEK_MS
  return now < untilMs
}

const NO_PANELS: readonly Thing<'panel'>[] = []
type ByJob = ReadonlyMap<string, Thing<'panel'>[]>
/** Every job and every panel asks for them when open work is told from what is over. */
const byJob = new WeakMap<State['things']['panel'], ByJob>()

function noteJobs(panels: State['things']['panel']): void {
  const found = new Map<string, Thing<'panel'>[]>()
  for (const panel of Object.values(panels)) {
    const own = found.get(panel.context.job)
    if (own) own.push(panel)
    else found.set(panel.context.job, [panel])
  }
  byJob.set(panels, found)
}

/** The panels that say they are of a job: where all jobs are asked for they are known, for one that is new they are looked for. */
const panelsOf = ({ things }: State, job: string): readonly Thing<'panel'>[] => {
  const known = byJob.get(things.panel)
  if (known) return known.get(job) ?? NO_PANELS
  return Object.values(things.panel).filter(({ context }) => context.job === job)
}

/** Whether all of a job's panels passed a week ago and none of its cups is still in use. */
function isDone(state: State, job: string, now: number): boolean {
  const panels = panelsOf(state, job).filter(({ value }) => routeState(value) !== 'removed')
  const passed = panels.map(({ context }) => context.passedAt ?? FOREVER_MS)
  if (panels.length === 0 || Math.max(...passed) + WEEK_MS > now) return false
  return !Object.values(state.things.cup).some(
    (cup) => cup.context.job === job && cup.value !== 'emptied' && isCupOpen(state, cup, now),
  )
}

/** Whether a job that is not known yet may still come: what was said of it and of its panels waits together. */
function isJobAwaited(state: State, id: string, now: number): boolean {
  const job = thingOf(state, { kind: 'job', id })
  return [job, ...panelsOf(state, id)].some((thing) => waits(thing, now))
}

/** Whether a job is neither closed nor done. */
function isRunning(state: State, id: string, now: number): boolean {
  const job = thingOf(state, { kind: 'job', id })
  return job !== undefined && job.value !== 'closed' && !isDone(state, id, now)
}

/** Whether a job is known, and closed or done. */
function isOver(state: State, id: string, now: number): boolean {
  const { value = 'unknown' } = thingOf(state, { kind: 'job', id }) ?? {}
  return value !== 'unknown' && !isRunning(state, id, now)
}

function isJobOpen(state: State, id: string, now: number): boolean {
  const job = thingOf(state, { kind: 'job', id })
  if (job === undefined || job.value === 'unknown') return isJobAwaited(state, id, now)
  const isClosed = job.value === 'closed'
  if (!isClosed && !isDone(state, id, now)) return true
  if (isClosed && now < (job.context.closedAt ?? 0) + CLOSED_MS) return true
  const panels = panelsOf(state, id)
  const isOther = (other: string) => isOver(state, other, now)
  if (panels.some((panel) => isHeldForAir(state, panel, now, isOther))) return true
  const open = {
    isCupOpen: (cup: Thing<'cup'>) => isCupOpen(state, cup, now),
    isJobOpen: (other: string) => isRunning(state, other, now),
  }
  return panels.some(({ context }) => isHeldForHeat(state, context, open))
}

/** Whether a panel is held that was sprayed in the pass of a prompt: it rang once for all of these, in the name of one. */
const isOfHeldPass = ({ things }: State, key: string): boolean => {
  const pass = namedIn(key)
  return Object.values(things.panel).some(({ entries }) => entries.some((e) => e.command === pass))
}

/** A bell comes and goes with its panels or its cup, and with the load of a gun that it is about. */
function isBellOpen(state: State, key: string): boolean {
  const about = thingOf(state, { kind: 'bell', id: key })?.entries.at(-1)
  const load = key.slice(key.lastIndexOf(':') + 1)
  const gun = thingOf(state, { kind: 'gun', id: about?.gun ?? '' })
  return (
    thingOf(state, { kind: 'panel', id: about?.panel ?? '' }) !== undefined ||
    thingOf(state, { kind: 'cup', id: about?.cup ?? '' }) !== undefined ||
    (gun?.entries.some((e) => e.id === load) ?? false) ||
    isOfHeldPass(state, key)
  )
}

function isPanelOpen(state: State, id: string, now: number): boolean {
  const panel = thingOf(state, { kind: 'panel', id })
  const job = panel?.context.job ?? ''
  // It is not known yet, or no more as its adding was voided: what was said of it waits for that, whatever its job was.
  return job === '' ? waits(panel, now) : isJobOpen(state, job, now)
}

/** Whether state still holds a job, panel, cup or bell; any other thing is held always, or in part. */
function isOpen(state: State, { kind, id }: ThingRef, now: number): boolean {
  const cup = kind === 'cup' ? thingOf(state, { kind, id }) : undefined
  if (cup) return isCupOpen(state, cup, now)
  if (kind === 'job') return isJobOpen(state, id, now)
  if (kind === 'panel') return isPanelOpen(state, id, now)
  return kind !== 'bell' || isBellOpen(state, id)
}

const without = <T>(of: { readonly [id: string]: T }, gone: ReadonlySet<string>) =>
  Object.fromEntries(Object.entries(of).filter(([id]) => !gone.has(id)))

/** The panels of some jobs: they go with them, also those that were there before their job was read back. */
const panelsOfJobs = ({ things }: State, jobs: ReadonlySet<string>): ThingRef[] =>
  jobs.size === 0
    ? []
    : Object.entries(things.panel).flatMap(([id, panel]): ThingRef[] =>
        jobs.has(panel.context.job) ? [{ kind: 'panel', id }] : [],
      )

/** Evicts those of some things that are not open, and then the bells that were about these. */
export function evictThings(state: State, refs: readonly ThingRef[], now: number): State {
  const over = (from: State, isBell: boolean) =>
    refs.filter(
      (ref) => (ref.kind === 'bell') === isBell && thingOf(from, ref) && !isOpen(from, ref, now),
    )
  const gone = over(state, false)
  const jobs = new Set(gone.flatMap(({ kind, id }) => (kind === 'job' ? [id] : [])))
  const left = evictedAlso(state, [...gone, ...panelsOfJobs(state, jobs)])
  return evictedAlso(left, over(left, true))
}

/** The state without some jobs, panels, cups and bells. What took its figures from these cups keeps them. */
export function evictedAlso(state: State, gone: readonly ThingRef[]): State {
  if (gone.length === 0) return state
  const of = (kind: Kind) => new Set(gone.flatMap((ref) => (ref.kind === kind ? [ref.id] : [])))
  const whole = settled(state, [...of('cup')], [...of('panel')])
  const { job, panel, cup, bell } = whole.things
  const kept = {
    job: without(job, of('job')),
    panel: without(panel, of('panel')),
    cup: without(cup, of('cup')),
    bell: without(bell, of('bell')),
  }
  return { ...whole, things: { ...whole.things, ...kept } }
}

/** What is evicted whole. */
export const EVICTED_WHOLE = ['job', 'panel', 'cup', 'bell'] as const

export const refsOf = <K extends Kind>(state: State, kinds: readonly K[]): ThingRef<K>[] =>
  kinds.flatMap((kind) => Object.keys(state.things[kind]).map((id) => ({ kind, id })))

/** Air from the reading on that held when a stretch of it began; where none did, up to the first one: that holds back. */
function withFirst(state: State, { zone, fromMs, toMs }: ZoneSpan): Span {
  const readings = readingsOf(state, zone)
  const before = lastBefore(readings, sinceCool(state, zone, readings, fromMs))
  if (before) return { fromMs: before.at, toMs }
  const [first] = coolIn(state, zone, readings).cool ?? readings
  return { fromMs: 0, toMs: Math.max(toMs, first?.at ?? FOREVER_MS) }
}

/** A zone holds its last hours, and the air that a clock rests on. */
function zoneSpans(state: State, zone: string, under: readonly ZoneSpan[], now: number): Span[] {
  const tail = { zone, fromMs: now - TAIL_MS, toMs: FOREVER_MS }
  const wanted = [tail, ...under.filter((span) => span.zone === zone)]
  return joined(wanted.map((span) => withFirst(state, span)))
}

/** A gun's past begins with a cleaning: what was in it before changes nothing any more. */
export function gunSpans({ entries }: Thing<'gun'>, now: number): Span[] {
  const live = liveIn(entries)
  const cleaned = live.filter((e) => e.type === 'GunCleaned').map((e) => e.at)
  const loads = live.filter((e) => 'load' in e.data).map((e) => e.at)
  const before = loads.filter((at) => at <= (cleaned.at(-1) ?? 0)).at(-LOADS_BEFORE) ?? 0
  const start = cleaned.findLast((at) => at <= Math.min(before, now - TAIL_MS)) ?? 0
  const most = Math.min(loads.at(-LOADS_MOST) ?? 0, now - TAIL_MS)
  return [{ fromMs: Math.max(start, most), toMs: FOREVER_MS }]
}

function holdOnly<K extends Kind>(
  state: State,
  ref: ThingRef<K>,
  spans: (thing: Thing<K>) => readonly Span[],
): State {
  const thing = thingOf(state, ref)
  if (!thing) return state
  const wanted = spans(thing)
  const heldMs = thing.heldMs ? overlap(wanted, thing.heldMs) : wanted
  const held = withHeld(state, ref, thing, heldMs)
  const isLess = held.entries.length < thing.entries.length
  const kept = ref.kind === 'gun' && isLess ? settledFromGun(state, ref.id) : state
  return withThing(kept, ref, held)
}

/**
 * A state that holds open work only.
 * @param now UTC ms by a clock that is right: while a clock is in doubt, nothing is to be evicted
 */
export function evict(state: State, now: number): State {
  noteJobs(state.things.panel)
  const open = evictThings(state, refsOf(state, ['job', 'panel', 'cup']), now)
  const under = refsOf(open, ['panel', 'cup', 'gun']).flatMap((ref) => oldAirUnder(open, ref, now))
  const tail = [{ fromMs: now - TAIL_MS, toMs: FOREVER_MS }]
  let held = holdOnly(open, DEVICES, () => tail)
  for (const ref of refsOf(open, ['zone']))
    held = holdOnly(held, ref, () => zoneSpans(open, ref.id, under, now))
  for (const ref of refsOf(open, ['gun'])) held = holdOnly(held, ref, (gun) => gunSpans(gun, now))
  return evictThings(held, refsOf(held, ['bell']), now)
}
