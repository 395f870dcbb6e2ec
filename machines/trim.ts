import type { EventType, Kind } from './catalog.ts'
import { CLEARANCE_MOST_MIN } from './climate/fold.ts'
import type { Point } from './clock/interval.ts'
import { lastBefore } from './clock/line.ts'
import type { CupContext } from './cup/machine.ts'
import type { Draft } from './envelope.ts'
import { MINUTE_MS } from './refusals.ts'
import type { State } from './state.ts'
import type { ContextOf, Thing, Things } from './things.ts'

const HOUR_MS = 60 * MINUTE_MS
const WEEK_MS = 7 * 24 * HOUR_MS
/** An emptied cup stays for the rest of the day, because the day still asks about it. */
const EMPTIED_MS = 12 * HOUR_MS
const CLIMATE_MS = 12 * HOUR_MS
/** A closed job stays for as long as a zone may take to be clear of what was sprayed on it. */
const CLOSED_MS = CLEARANCE_MOST_MIN * MINUTE_MS

const filtered = <T>(things: { readonly [id: string]: T }, keep: (thing: T) => boolean) =>
  Object.fromEntries(Object.entries(things).filter(([, thing]) => keep(thing)))

const own = (points: readonly Point[]): number => (points[0]?.minutes ?? 0) * MINUTE_MS

/** When a cup is over by the sheet's own figures: without exp(), so that every engine evicts the same. */
function ownEnd(cup: CupContext): number {
  const ends = cup.clocks.map((clock) => clock.startMs + own(clock.interval.points))
  return Math.max(cup.keepUntilMs ?? 0, cup.mixedAt, ...ends)
}

function keepsCup({ context: cup }: Thing<'cup'>, now: number): boolean {
  return cup.emptiedAt === null ? now < ownEnd(cup) + WEEK_MS : now < cup.emptiedAt + EMPTIED_MS
}

/** The start of the oldest running interval: no climate from before it is needed. */
function oldestOpen(
  panels: Things<'panel'>,
  cups: Things<'cup'>,
  guns: Things<'gun'>,
  now: number,
): number {
  const starts = [
    ...Object.values(panels).flatMap(({ context: panel }) => {
      return [panel.coats.at(-1)?.finishedAt, panel.open?.startedAt, panel.cure?.startedAt]
    }),
    ...Object.values(cups).flatMap(({ context: cup }) => {
      // A cup poured from another carries its clocks, which began with that one.
      return [cup.mixedAt, ...cup.clocks.map((clock) => clock.startMs)]
    }),
    ...Object.values(guns).flatMap((t) =>
      t.context.loads.flatMap((load) => load.clocks.map((clock) => clock.startMs)),
    ),
  ].filter((at) => at !== undefined)
  return Math.min(now, ...starts)
}

/** Drops a thing's entries before a cut, except those that set it up. */
function cutThing<K extends Kind>(
  thing: Thing<K>,
  cutMs: number,
  sets: EventType,
  cut: (context: ContextOf<K>) => ContextOf<K>,
): Thing<K> {
  const isKept = (e: Draft) => e.type === sets || e.data.type === sets || e.at >= cutMs
  const kept = new Set<unknown>(thing.entries.filter(isKept).map((e) => e.id))
  // The void of an entry stays with it, whatever its time: without it the mistake would count again.
  const entries = thing.entries.filter((e) => kept.has(e.id) || kept.has(e.data.entry))
  if (entries.length === thing.entries.length) return thing
  return { ...thing, entries, cutMs, context: cut(thing.context) }
}

/** A reading is valid until the next one: the one valid at the cut stays, otherwise waits would shorten. */
function cutZone(thing: Thing<'zone'>, cutMs: number): Thing<'zone'> {
  const { readings } = thing.context
  const fromMs = lastBefore(readings, cutMs)?.at ?? cutMs
  return cutThing(thing, fromMs, 'ZoneSaved', (context) => ({
    ...context,
    readings: readings.filter((r) => r.at >= fromMs),
  }))
}

/** A clean gun starts over: what it held before its last cleaning no longer matters. */
function cutGun(thing: Thing<'gun'>, now: number): Thing<'gun'> {
  const cleaned = thing.entries.findLast((e) => e.type === 'GunCleaned' && now - e.at > CLIMATE_MS)
  return cleaned ? cutThing(thing, cleaned.at, 'GunSaved', (context) => context) : thing
}

/** Levels stay as commissioned; a sound test at the start of a shift is only kept for that day. */
const cutDevices = (thing: Thing<'devices'>, cutMs: number): Thing<'devices'> =>
  cutThing(thing, cutMs, 'LevelCommissioned', (context) => {
    const { levels, tests, slept, floods, clock } = context
    const isLate = ({ at }: { at: number }) => at >= cutMs
    return {
      levels,
      tests: tests.filter(isLate),
      slept: slept.filter(isLate),
      floods: floods.filter(isLate),
      clock: clock.filter(isLate),
    }
  })

/** The thing that a bell is about, by its entries' keys, is still there. */
function isBellKept(state: State['things'], thing: Thing<'bell'>, now: number): boolean {
  const { panel, cup, gun } = thing.entries.at(-1) ?? {}
  const isAbout =
    (panel !== undefined && panel in state.panel) ||
    (cup !== undefined && cup in state.cup) ||
    (gun !== undefined && gun in state.gun)
  return isAbout || now - (thing.entries.at(-1)?.at ?? 0) < EMPTIED_MS
}

/**
 * A state that holds open work only: without jobs closed for hours and their panels, without cups
 * emptied or long over, without climate older than what held 12 h before the oldest open interval.
 * What it evicts is folded again from the log on demand.
 * @param now the shop's time, UTC ms, where that is beyond doubt: trim reads no clock
 */
export function trim(state: State, now: number): State {
  const { things } = state
  const isOver = (t: Thing<'job'> | undefined) =>
    t?.value === 'closed' && now - (t.context.closedAt ?? 0) >= CLOSED_MS
  const job = filtered(things.job, (t) => !isOver(t))
  const panel = filtered(things.panel, (t) => !isOver(things.job[t.context.job]))
  const cup = filtered(things.cup, (t) => keepsCup(t, now))
  const gun = Object.fromEntries(Object.entries(things.gun).map(([id, t]) => [id, cutGun(t, now)]))
  const cutMs = oldestOpen(panel, cup, gun, now) - CLIMATE_MS
  const zone = Object.fromEntries(
    Object.entries(things.zone).map(([id, t]) => [id, cutZone(t, cutMs)]),
  )
  const devices = Object.fromEntries(
    Object.entries(things.devices).map(([id, t]) => [id, cutDevices(t, now - EMPTIED_MS)]),
  )
  const kept = { ...things, job, panel, cup, gun, zone, devices }
  const bell = filtered(things.bell, (t) => isBellKept(kept, t, now))
  return { ...state, things: { ...kept, bell } }
}
