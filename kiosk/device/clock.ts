/**
 * Kiosk time is the server's: heard from the tail's heartbeats, carried on the monotonic clock
 * between them. The device's own clock is used before the first heartbeat, to notice a sleep or a
 * jump, and never else. A message may come late but never early, so what a heartbeat says is the
 * least that the server's clock can show: of the last few, the one that came fastest is believed.
 */

import type { DeadlineSide } from '../../machines/bell/kinds.ts'

/** Two readings of one moment: `monotonicMs` never steps but may stop in a sleep; `deviceMs` is UTC by the device. */
export type Sample = { readonly monotonicMs: number; readonly deviceMs: number }

const WARN_MS = 2_000
const NOT_SYNCHRONISED_MS = 10_000
/** Heartbeats come every few seconds; after this long without one the kiosk carries the time on by itself. */
const HEARD_WITHIN_MS = 60_000
/** How many heartbeats are weighed against one another. */
const HEARD_KEPT = 4
/** After a jump a message this young may have lain in a buffer since before it. */
const BUFFERED_MS = 1_000
/** The most that a device's clock is steered without a jump (adjtime's 500 parts in a million). */
const SLEW = 0.0005

/** A clock less the monotonic one, and when that was. */
type Offset = { readonly offsetMs: number; readonly monotonicMs: number }

type ClockState = {
  /** Server time less monotonic time, of the last heartbeats, newest last. */
  readonly heard: readonly Offset[]
  /** The last heartbeat less what was carried until then. */
  readonly differenceMs: number
  /** Device time less monotonic time when last in order; null before the first look. */
  readonly device: Offset | null
  /** How far the device's clock ran ahead of the monotonic one at once: the longest sleep it can have been. */
  readonly jump: { readonly aheadMs: number; readonly seenAtMs: number } | null
  /** Server time less device time as kept from an earlier page. */
  readonly rememberedOffsetMs: number
}

type Sync = 'synchronised' | 'carried' | 'notSynchronised'

/** What the kiosk knows of the time. All in ms, instants in UTC. */
export type ClockReading = {
  /** The best guess: what the clock on the screen shows. */
  readonly nowMs: number
  /** The bounds of what the server's clock can show. Equal unless not synchronized. */
  readonly earliestMs: number
  readonly latestMs: number
  readonly sync: Sync
  /** The last heartbeat less what was carried until then. */
  readonly differenceMs: number
  /** What a device time is corrected by to be kiosk time. */
  readonly deviceOffsetMs: number
  /** A difference worth a warning: of the last heartbeat, or of the device's clock. */
  readonly warns: boolean
  /** Time since the last heartbeat; null before the first. */
  readonly silentForMs: number | null
}

/** A clock that has heard nothing yet. `rememberedOffsetMs`: see ClockState. */
const newClock = (rememberedOffsetMs = 0): ClockState => ({
  heard: [],
  differenceMs: 0,
  device: null,
  jump: null,
  rememberedOffsetMs,
})

/** Compares the two clocks, at least at every tick: a sleep or a jump shows in their difference. */
export function looked(state: ClockState, sample: Sample): ClockState {
  const device = offsetOf(sample)
  // Before the first heartbeat the device's time is all there is: nothing to compare it with.
  if (state.device === null || state.heard.length === 0) return { ...state, device }
  const aheadMs = device.offsetMs - state.device.offsetMs
  const steeredMs = (sample.monotonicMs - state.device.monotonicMs) * SLEW
  if (Math.abs(aheadMs) <= WARN_MS + steeredMs) return state
  // The monotonic clock may stop but never runs ahead: a jump back loses no time.
  const sleptMs = (state.jump?.aheadMs ?? 0) + Math.max(0, aheadMs)
  return { ...state, jump: { aheadMs: sleptMs, seenAtMs: sample.monotonicMs }, device }
}

/**
 * A heartbeat. A clock ahead of the carried one is believed at once, since no message is early; one
 * that is behind is believed when the older heartbeats have made way.
 */
export function heard(before: ClockState, sample: Sample, serverAtMs: number): ClockState {
  const state = looked(before, sample)
  const offsetMs = serverAtMs - sample.monotonicMs
  const differenceMs = offsetMs - carriedOffset(state, sample)
  const kept = differenceMs > NOT_SYNCHRONISED_MS ? [] : state.heard.slice(1 - HEARD_KEPT)
  return {
    ...state,
    heard: [...kept, { offsetMs, monotonicMs: sample.monotonicMs }],
    differenceMs: state.heard.length === 0 ? 0 : differenceMs,
    jump: isSettled(state, sample, differenceMs) ? null : state.jump,
    device: offsetOf(sample),
  }
}

/**
 * A heartbeat after the server's time was put right: believed alone, also where it is behind what was
 * carried. The device's clock is as it was.
 */
function putRight(before: ClockState, sample: Sample, serverAtMs: number): ClockState {
  const after = heard({ ...looked(before, sample), heard: [] }, sample, serverAtMs)
  return { ...after, differenceMs: 0 }
}

/** Whether a heartbeat ends the doubt about a jump: it shows the whole sleep, or cannot be an old one. */
function isSettled({ jump }: ClockState, sample: Sample, differenceMs: number): boolean {
  if (jump === null) return true
  if (differenceMs > WARN_MS && differenceMs >= jump.aheadMs - WARN_MS) return true
  return sample.monotonicMs - jump.seenAtMs >= BUFFERED_MS
}

/** What is known of the time at this moment. */
export function read(state: ClockState, sample: Sample): ClockReading {
  const offsetMs = carriedOffset(state, sample)
  const nowMs = Math.round(offsetMs + sample.monotonicMs)
  const last = state.heard.at(-1)
  const silentForMs = last === undefined ? null : sample.monotonicMs - last.monotonicMs
  const behindMs = last === undefined ? 0 : offsetMs - last.offsetMs
  const isBehind = behindMs > NOT_SYNCHRONISED_MS
  const deviceOffsetMs = Math.round(nowMs - sample.deviceMs)
  return {
    nowMs,
    earliestMs: isBehind ? Math.round(nowMs - behindMs) : nowMs,
    latestMs: Math.round(nowMs + (state.jump?.aheadMs ?? 0)),
    sync:
      silentForMs === null || state.jump !== null || isBehind
        ? 'notSynchronised'
        : silentForMs > HEARD_WITHIN_MS
          ? 'carried'
          : 'synchronised',
    differenceMs: state.differenceMs,
    deviceOffsetMs,
    warns: Math.abs(state.differenceMs) > WARN_MS || Math.abs(deviceOffsetMs) > WARN_MS,
    silentForMs,
  }
}

const offsetOf = (sample: Sample): Offset => ({
  offsetMs: sample.deviceMs - sample.monotonicMs,
  monotonicMs: sample.monotonicMs,
})

function carriedOffset(state: ClockState, sample: Sample): number {
  if (state.heard.length === 0)
    return sample.deviceMs + state.rememberedOffsetMs - sample.monotonicMs
  return Math.max(...state.heard.map((h) => h.offsetMs))
}

/** The careful end: a wait is over when even the earliest clock says so, a limit when the latest does. */
export const nowFor = (reading: ClockReading, side: DeadlineSide): number =>
  side === 'notBefore' ? reading.earliestMs : reading.latestMs

/** Kiosk time for a running page. */
export type Clock = {
  /**
   * Server time of a heartbeat that has just arrived, UTC ms.
   * @param isPutRight the server's own time was put right since: what was heard before is of no use
   */
  heard(serverAtMs: number, isPutRight?: boolean): void
  /** To be asked at every tick, since a sleep is noticed only by looking. */
  read(): ClockReading
}

/**
 * @param sample reads both clocks of the device at one moment
 * @param rememberedOffsetMs server time less device time as an earlier page knew it
 */
export function kioskClock(sample: () => Sample, rememberedOffsetMs = 0): Clock {
  let state = looked(newClock(rememberedOffsetMs), sample())
  return {
    heard: (serverAtMs, isPutRight = false) => {
      state = isPutRight
        ? putRight(state, sample(), serverAtMs)
        : heard(state, sample(), serverAtMs)
    },
    read: () => {
      const now = sample()
      state = looked(state, now)
      return read(state, now)
    },
  }
}
