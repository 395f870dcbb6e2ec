import type { ClockDoubt } from '../../machines/contract.ts'

/**
 * The shop's time: the monotonic clock, anchored at the computer's wall clock when the server
 * started. The wall clock is watched, and followed only as far as a person need not be asked. Pure:
 * samples of both clocks go in, the shop's time and the steps of the wall clock come out.
 */

/** Two readings of one moment: `monotonicMs` never steps; `wallMs` is UTC as the computer has it. */
export type Sample = { readonly monotonicMs: number; readonly wallMs: number }

/** A step of the wall clock: what it would have shown, and what it showed. UTC ms. */
export type Jump = { readonly fromMs: number; readonly toMs: number }

export type ShopTime = {
  /** When the clocks were last looked at, and what the wall clock showed then. */
  readonly seen: Sample
  /** The shop's time at that moment, UTC ms; with fractions while it runs slower. */
  readonly nowMs: number
  /** How far the wall clock is off, as a person who confirmed the time has said. */
  readonly wallOffMs: number
  /** Why a person has to confirm the time; null where none has to. */
  readonly doubt: ClockDoubt | null
  /** Whether the shop's time runs at half speed, to let the wall clock catch up. */
  readonly isSlow: boolean
}

/** A smaller step is ignored: time services steer clocks by as much. */
const STEP_MS = 2_000
/** A step up to this is a clock put right, and is followed unasked. */
const FOLLOWED_MS = 5 * 60_000
const DAY_MS = 86_400_000
/** A board without a battery starts at most this far behind its log; a shop is seldom closed for longer. */
const ASKED_AFTER_MS = 14 * DAY_MS
/** No time before this can be recorded: the year 2020, as for every time from outside. */
export const EARLIEST_MS = 1_577_836_800_000

/**
 * The shop's time when the server starts.
 * @param lastMs the time of the last entry or of the mark beside the log; null for a new shop
 */
export function startTime(seen: Sample, lastMs: number | null): ShopTime {
  const { wallMs } = seen
  const from = (nowMs: number, doubt: ClockDoubt | null): ShopTime => ({
    seen,
    nowMs,
    wallOffMs: 0,
    doubt,
    isSlow: false,
  })
  if (lastMs === null) return wallMs < EARLIEST_MS ? from(EARLIEST_MS, 'unset') : from(wallMs, null)
  if (wallMs < lastMs - STEP_MS) return from(lastMs, 'behindLog')
  if (wallMs < lastMs) return { ...from(lastMs, null), isSlow: true }
  return from(wallMs, wallMs > lastMs + ASKED_AFTER_MS ? 'longSince' : null)
}

/**
 * The shop's time at a later moment.
 * @returns the step of the wall clock since the last look, where it was more than two seconds
 */
export function looked(time: ShopTime, seen: Sample): { time: ShopTime; jump: Jump | null } {
  const passedMs = Math.max(0, seen.monotonicMs - time.seen.monotonicMs)
  const fromMs = time.seen.wallMs + passedMs
  const isStep = Math.abs(seen.wallMs - fromMs) > STEP_MS
  const judged = isStep ? judgedStep(time, seen.wallMs - (time.nowMs + passedMs)) : time
  const jump = isStep ? { fromMs: Math.round(fromMs), toMs: seen.wallMs } : null
  return { time: carried(judged, seen, passedMs), jump }
}

/**
 * Whether a step of the wall clock is followed.
 * @param gapMs the wall clock less the shop's time, both now
 */
function judgedStep(time: ShopTime, gapMs: number): ShopTime {
  const followed: ShopTime = { ...time, wallOffMs: 0, doubt: null }
  if (isFirstSetting(time.doubt, gapMs)) return followed
  // Where nobody has been for weeks, one small step does not make the rest right.
  if (Math.abs(gapMs) <= FOLLOWED_MS)
    return time.doubt === 'longSince' ? { ...followed, doubt: 'longSince' } : followed
  const isKnownOff = time.doubt === null && Math.abs(gapMs - time.wallOffMs) <= FOLLOWED_MS
  if (isKnownOff) return time
  const waits = time.doubt === 'behindLog' || time.doubt === 'unset'
  return waits && gapMs < 0 ? time : { ...time, doubt: 'jumped' }
}

/** A board without a battery gets its time: the first step forward is that. */
function isFirstSetting(doubt: ClockDoubt | null, gapMs: number): boolean {
  if (doubt === 'unset') return gapMs > 0
  return doubt === 'behindLog' && gapMs > 0 && gapMs <= ASKED_AFTER_MS
}

/** Forwards at once, backwards by running at half speed; in doubt as the monotonic clock runs. */
function carried(time: ShopTime, seen: Sample, passedMs: number): ShopTime {
  const runMs = time.nowMs + passedMs
  if (time.doubt !== null && time.doubt !== 'longSince')
    return { ...time, seen, nowMs: runMs, isSlow: false }
  const shownMs = seen.wallMs - time.wallOffMs
  const nowMs = Math.max(shownMs, time.nowMs + passedMs / 2)
  return { ...time, seen, nowMs, isSlow: nowMs > shownMs }
}

/**
 * The shop's time as a person has confirmed it: the only way in which it steps back.
 * @param nowMs the time now, UTC ms; within five minutes of the wall clock, that clock is meant
 */
export function confirmed(time: ShopTime, nowMs: number): ShopTime {
  const offMs = time.seen.wallMs - nowMs
  const isWallMeant = Math.abs(offMs) <= FOLLOWED_MS
  return {
    ...time,
    nowMs: isWallMeant ? time.seen.wallMs : nowMs,
    wallOffMs: isWallMeant ? 0 : offMs,
    doubt: null,
    isSlow: false,
  }
}
