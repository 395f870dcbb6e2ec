import { scaleLinear } from 'd3-scale'

/** Where a moment stands on the timeline, and the moments that are written on it. Pure. */

export type Span = { readonly from: number; readonly to: number }

const MINUTE_MS = 60_000
/** Stretches that people read clocks in. A scale's own ticks know tens only. */
const STEPS_MIN = [1, 2, 5, 10, 15, 30, 60, 120, 180, 360, 720, 1_440, 2_880, 10_080]
/** A time of day is written in about this much. */
const WORD_PX = 74

/** From time to place. @param width of the drawing in its own units */
export const placesOf = ({ from, to }: Span, width: number) =>
  scaleLinear([from, to], [0, width]).clamp(true)

/**
 * Round times of the shop's clock.
 * @param offsetMs what the shop's clock is ahead of UTC, so that midnight is the shop's
 */
export function ticksOf({ from, to }: Span, width: number, offsetMs: number): number[] {
  const most = Math.max(2, Math.floor(width / WORD_PX))
  const step =
    (STEPS_MIN.find((min) => (to - from) / (min * MINUTE_MS) <= most) ?? 40_320) * MINUTE_MS
  const first = Math.ceil((from + offsetMs) / step) * step - offsetMs
  const ticks: number[] = []
  for (let at = first; at <= to; at += step) ticks.push(at)
  return ticks
}

/** Closer or further about the middle, never beyond the whole. */
export function zoomed({ from, to }: Span, whole: Span, factor: number): Span {
  const length = Math.min(whole.to - whole.from, Math.max(5 * MINUTE_MS, (to - from) * factor))
  return within({ from: (from + to) / 2 - length / 2, to: (from + to) / 2 + length / 2 }, whole)
}

/** Half of what is shown to one side. */
export const moved = ({ from, to }: Span, whole: Span, share: number): Span =>
  within({ from: from + (to - from) * share, to: to + (to - from) * share }, whole)

/** About a moment. */
export const about = (at: number, { from, to }: Span, whole: Span): Span =>
  within({ from: at - (to - from) / 2, to: at + (to - from) / 2 }, whole)

/** Marks nearer than this to the one before cannot be told apart. */
const APART_PX = 3

/**
 * Those of a row's marks that can be told apart: of many in one place the first is drawn, and every one that
 * is wanted whatever stands beside it. The table has them all.
 */
export function apart<M extends { readonly from: number; readonly to: number | null }>(
  marks: readonly M[],
  place: (at: number) => number,
  isWanted: (mark: M) => boolean,
): M[] {
  let last = Number.NEGATIVE_INFINITY
  return marks.filter((mark) => {
    if (mark.to !== null || isWanted(mark)) return true
    const at = place(mark.from)
    if (Math.abs(at - last) < APART_PX) return false
    last = at
    return true
  })
}

function within({ from, to }: Span, whole: Span): Span {
  const length = Math.min(to - from, whole.to - whole.from)
  const begins = Math.min(Math.max(from, whole.from), whole.to - length)
  return { from: begins, to: begins + length }
}
