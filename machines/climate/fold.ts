import type { AirReading, PartReading } from '../clock/line.ts'
import type { Draft } from '../envelope.ts'
import { type Folder, plainFolder } from '../replay.ts'
import { contextOf, type State } from '../state.ts'

export type ZoneReading = AirReading & { readonly rh: number; readonly surfaceC?: number }
/** The longest time that a zone may be said to take until it is clear, minutes. */
export const CLEARANCE_MOST_MIN = 240
export type ZoneSpec = { readonly name?: string; readonly clearanceMin?: number }
export type ZoneContext = {
  readonly spec: ZoneSpec | null
  readonly readings: readonly ZoneReading[]
}

function reduce(context: ZoneContext, entry: Draft): ZoneContext {
  if (entry.type === 'ZoneSaved') return { ...context, spec: entry.data as ZoneSpec }
  const data = entry.data as { airC: number; rh: number; surfaceC?: number }
  return { ...context, readings: [...context.readings, { at: entry.at, ...data }] }
}

export const zoneFolder: Folder = plainFolder<ZoneContext>({ spec: null, readings: [] }, reduce)

const NONE: readonly ZoneReading[] = []

/** A zone's readings in order of time. */
export const readingsOf = (state: State, zone: string): readonly ZoneReading[] =>
  contextOf<ZoneContext>(state, 'zone', zone)?.readings ?? NONE

/** The surfaces measured in a zone, as parts' readings. */
export const surfacesOf = (readings: readonly ZoneReading[]): PartReading[] =>
  readings.flatMap((r) => (r.surfaceC === undefined ? [] : [{ at: r.at, partC: r.surfaceC }]))
