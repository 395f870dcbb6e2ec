import { isKnownAt, lastBefore, type PartReading, type ZoneAir } from '../clock/line.ts'
import type { Draft } from '../envelope.ts'
import { plainFolder } from '../replay.ts'
import { contextOf, type State, thingOf } from '../state.ts'
import type { ZoneContext, ZoneReading, ZoneSpec } from './context.ts'

/** The longest clearance time that a zone may have, minutes. */
export const CLEARANCE_MOST_MIN = 240

function reduce(context: ZoneContext, entry: Draft): ZoneContext {
  if (entry.type === 'ZoneSaved') return { ...context, spec: entry.data as ZoneSpec }
  const data = entry.data as { airC: number; rh: number; surfaceC?: number }
  return { ...context, readings: [...context.readings, { at: entry.at, ...data }] }
}

export const zoneFolder = plainFolder<ZoneContext>({ spec: null, readings: [] }, reduce)

const NONE: readonly ZoneReading[] = []

/** A zone's readings in order of time. */
export const readingsOf = (state: State, zone: string): readonly ZoneReading[] =>
  contextOf(state, 'zone', zone)?.readings ?? NONE

/** A zone's readings, and of which times they are held. */
export function airOf(state: State, zone: string): ZoneAir<ZoneReading> {
  const heldMs = thingOf(state, { kind: 'zone', id: zone })?.heldMs
  return { readings: readingsOf(state, zone), ...(heldMs ? { heldMs } : {}) }
}

/** The reading that holds in a zone at an instant; undefined where it is not known. */
export function readingAt(state: State, zone: string, at: number): ZoneReading | undefined {
  const air = airOf(state, zone)
  return isKnownAt(air, at) ? lastBefore(air.readings, at) : undefined
}

/** The surfaces measured in a zone, as parts' readings. */
export const surfacesOf = (readings: readonly ZoneReading[]): PartReading[] =>
  readings.flatMap((r) => (r.surfaceC === undefined ? [] : [{ at: r.at, partC: r.surfaceC }]))
