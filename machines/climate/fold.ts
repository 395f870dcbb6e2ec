import type { AirMovers, DayRange, PartReading, ZoneAir } from '../clock/air.ts'
import { isKnownAt, lastBefore } from '../clock/line.ts'
import type { Draft } from '../envelope.ts'
import { plainFolder } from '../replay.ts'
import { contextOf, type State, thingOf } from '../state.ts'
import type { Thing } from '../things.ts'
import type { ZoneContext, ZoneReading, ZoneSpec } from './context.ts'
import { coolIn, heatedIn, heatsIn, type ZoneHeat } from './heats.ts'

/** The longest clearance time that a zone may have, minutes. */
export const CLEARANCE_MOST_MIN = 240
/** A clearing, or a clearance time, that is taken back is still undone so long after it. */
export const UNDONE_MS = 12 * 60 * 60_000

function readingOf({ at, data }: Draft): ZoneReading {
  return { at, ...(data as { airC: number; rh: number; surfaceC?: number }) }
}

const rangeOf = ({ at, data }: Draft): DayRange => ({ at, ...(data as Omit<DayRange, 'at'>) })

const moversOf = ({ at, data }: Draft): AirMovers => ({ at, isOn: data.on === true })

const purgeEnd = ({ at, data }: Draft): number => at + Number(data.minutes) * 60_000

/** Coats that ended by then count as clear where a clearance time is taken off at an instant, UTC ms: some have evicted them. */
export const airedBy = (at: number): number => at - CLEARANCE_MOST_MIN * 60_000

/** What a clearance time had let go of is clear, though that is taken off; of what was said late the entry says it. */
function saved({ clearsSince, ...context }: ZoneContext, { at, data }: Draft): ZoneContext {
  const { airedUntil, ...spec } = data as ZoneSpec & { airedUntil?: number }
  const before = airedUntil === undefined ? context : withAired(context, airedUntil)
  if (spec.clearanceMin !== undefined) return { ...before, spec, clearsSince: clearsSince ?? at }
  if (clearsSince === undefined || at < clearsSince + UNDONE_MS) return { ...before, spec }
  return { ...withAired(before, airedBy(at)), spec }
}

const withAired = (context: ZoneContext, untilMs: number): ZoneContext => ({
  ...context,
  airedUntil: Math.max(context.airedUntil ?? 0, untilMs),
})

const BLANK: ZoneContext = { spec: null, readings: [] }

/** What is written down of a zone and changes nothing in it: it is there to be taken back. */
const WRITTEN: readonly string[] = ['FilterServiced', 'SolventUsed']

function reduce(context: ZoneContext, entry: Draft): ZoneContext {
  if (WRITTEN.includes(entry.type)) return context
  if (entry.type === 'ZoneSaved') return saved(context, entry)
  if (entry.type === 'AirMoversSet')
    return { ...context, movers: [...(context.movers ?? []), moversOf(entry)] }
  if (entry.type === 'DayRangeSet')
    return { ...context, ranges: [...(context.ranges ?? []), rangeOf(entry)] }
  if (entry.type === 'ZoneCleared') return { ...context, clearedAt: entry.at }
  if (entry.type === 'ZonePurged') return { ...context, purgedUntil: purgeEnd(entry) }
  return { ...context, readings: [...context.readings, readingOf(entry)] }
}

/** A sensor leaves thousands of readings in two days. */
function whole(entries: readonly Draft[]): ZoneContext {
  const saves = entries.filter(({ type }) => type === 'ZoneSaved')
  const cleared = entries.findLast(({ type }) => type === 'ZoneCleared')
  const purged = entries.findLast(({ type }) => type === 'ZonePurged')
  const readings = entries.filter(({ type }) => type === 'ClimateRead').map(readingOf)
  const movers = entries.filter(({ type }) => type === 'AirMoversSet').map(moversOf)
  const ranges = entries.filter(({ type }) => type === 'DayRangeSet').map(rangeOf)
  return {
    ...saves.reduce(saved, BLANK),
    readings,
    ...(movers.length > 0 ? { movers } : {}),
    ...(ranges.length > 0 ? { ranges } : {}),
    ...(cleared ? { clearedAt: cleared.at } : {}),
    ...(purged ? { purgedUntil: purgeEnd(purged) } : {}),
  }
}

export const zoneFolder = plainFolder<ZoneContext>(BLANK, reduce, whole)

const NONE: readonly ZoneReading[] = []

/** A zone's readings in order of time. */
export const readingsOf = (state: State, zone: string): readonly ZoneReading[] =>
  contextOf(state, 'zone', zone)?.readings ?? NONE

type Air = ZoneAir<ZoneReading>
type KnownAir = { readonly heats: readonly ZoneHeat[]; readonly air: Air }
/** Every clock of a zone asks for it, and neither a zone nor what its panels know of heat is ever changed. */
const airs = new WeakMap<Thing<'zone'>, KnownAir>()

/** A zone's readings, and of which times they are held: the very same as long as nothing of it changed. */
export function airOf(state: State, zone: string): Air {
  const thing = thingOf(state, { kind: 'zone', id: zone })
  const heats = heatsIn(state, zone)
  const known = thing && airs.get(thing)
  if (known && known.heats === heats) return known.air
  const air = airFrom(state, zone)
  if (thing) airs.set(thing, { heats, air })
  return air
}

function airFrom(state: State, zone: string): Air {
  const heldMs = thingOf(state, { kind: 'zone', id: zone })?.heldMs
  const context = contextOf(state, 'zone', zone)
  const { movers, ranges } = context ?? {}
  const heated = heatedIn(state, zone, context)
  return {
    readings: readingsOf(state, zone),
    ...(movers ? { movers } : {}),
    ...(ranges ? { ranges } : {}),
    ...(heated.length > 0 ? { heated } : {}),
    ...coolIn(state, zone, readingsOf(state, zone)),
    ...(heldMs ? { heldMs } : {}),
  }
}

/** The reading that holds in a zone at an instant; undefined where it is not known. */
export function readingAt(state: State, zone: string, at: number): ZoneReading | undefined {
  const air = airOf(state, zone)
  return isKnownAt(air, at) ? lastBefore(air.readings, at) : undefined
}

/** Every clock of a zone asks for them, and a zone's readings are never changed. */
const surfaces = new WeakMap<readonly ZoneReading[], readonly PartReading[]>()

/** The surfaces measured in a zone, as parts' readings. */
export function surfacesOf(readings: readonly ZoneReading[]): readonly PartReading[] {
  const known = surfaces.get(readings)
  if (known) return known
  const found = readings.flatMap((r) =>
    r.surfaceC === undefined ? [] : [{ at: r.at, partC: r.surfaceC }],
  )
  surfaces.set(readings, found)
  return found
}
