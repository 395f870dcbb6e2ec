import type { Span } from '../spans.ts'

/** What is known of the air that a clock runs in. */

/** Air of a zone at an instant (UTC ms). */
export type AirReading = { readonly at: number; readonly airC: number; readonly rh?: number }
/** Surface of a part at an instant (UTC ms). */
export type PartReading = { readonly at: number; readonly partC: number }
/** That air movers were switched on or off at an instant. */
export type AirMovers = { readonly at: number; readonly isOn: boolean }
/** Between what the air of a zone is said to be, from one instant to before another (UTC ms). */
export type DayRange = {
  readonly at: number
  readonly untilMs: number
  readonly minC: number
  readonly maxC: number
  readonly rhMin?: number
  readonly rhMax?: number
}
/** That a zone is heated to a temperature, from one instant to before another (UTC ms; Infinity for no end yet). */
export type Heated = { readonly fromMs: number; readonly untilMs: number; readonly setC: number }
/** What is known of a zone's air: its readings in order of time. */
export type ZoneAir<R extends AirReading = AirReading> = {
  readonly readings: readonly R[]
  readonly movers?: readonly AirMovers[]
  /** What it is said to be while nobody reads it, in order of time: the later word counts. */
  readonly ranges?: readonly DayRange[]
  /** Where it is heated, what must not take too long is as warm as that at least. */
  readonly heated?: readonly Heated[]
  /** Those that were not read in a bake: by these goes what waits beside it. */
  readonly cool?: readonly R[]
  /** The times of which all readings are here; absent where none was ever evicted. */
  readonly heldMs?: readonly Span[]
}
/** A stay in one zone, from when. */
export type Stay = ZoneAir & { readonly fromMs: number }

/** The climate an interval runs in. Stays are in order; the first holds back to the start. */
export type Climate = {
  readonly stays: readonly Stay[]
  readonly parts: readonly PartReading[]
  /** After this long without a newer reading nobody knows the air: the clocks run blind. */
  readonly staleMs: number
  /** From an instant on another climate counts as well, and the more cautious of both binds. */
  readonly also?: { readonly fromMs: number; readonly climate: Climate }
}
