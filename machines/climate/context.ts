import type { AirMovers, AirReading, DayRange } from '../clock/air.ts'

export type ZoneReading = AirReading & { readonly rh: number; readonly surfaceC?: number }
export type ZoneSpec = {
  readonly name?: string
  readonly clearanceMin?: number
  readonly sprayed?: boolean
  /** Zones without a wall between, or with an open front or a curtain within 6 m (20 ft). */
  readonly opensTo?: readonly string[]
  /** Minutes of moving air after the last coat, before heat. */
  readonly purgeMin?: number
  /** Minutes after heat until a part is cool, where nobody measures it. */
  readonly coolMin?: number
  /** How far a part stays behind the air of a bake, °C. */
  readonly lagC?: number
  /** How many jobs stand in it at once; for plans alone. */
  readonly fitsJobs?: number
  /** False for one that is not used any more. */
  readonly inUse?: boolean
}
export type ZoneContext = {
  readonly spec: ZoneSpec | null
  readonly readings: readonly ZoneReading[]
  readonly movers?: readonly AirMovers[]
  readonly ranges?: readonly DayRange[]
  /** Since when it has a clearance time, whatever that was changed to; absent where it has none. */
  readonly clearsSince?: number
  /** Coats that ended until then were clear by a clearance time that has been taken off since. */
  readonly airedUntil?: number
  /** When a person last found it clear of what was sprayed in it. */
  readonly clearedAt?: number
  /** When the last purge that a person began is over. */
  readonly purgedUntil?: number
}

/** How a zone was found to be clear. */
export const CLEARED_BY = ['smokeTest', 'gauge', 'leftOvernight'] as const
