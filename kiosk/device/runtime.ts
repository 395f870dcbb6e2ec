import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { USUAL_RULES } from '../../machines/bell/rules.ts'
import type { Open } from '../bells/openBells.ts'
import type { RingerSaid } from '../bells/reporter.ts'
import { Ringer, type RingerParts } from '../bells/ringer.ts'
import { type Speaker, speaker } from '../bells/sound/speaker.ts'
import { type Ticks, tickClock } from '../bells/ticker.ts'
import { type Clock, type ClockReading, kioskClock, type Sample } from './clock.ts'

/** What a page runs on. Only main.tsx makes the real ones. */
type Sources = {
  readonly sample: () => Sample
  readonly rememberedOffsetMs: number
  readonly wait: (ms: number) => Promise<void>
  readonly ticks: Ticks
  readonly audio: () => AudioContext
  readonly soundsHere: RingerParts['soundsHere']
  readonly tell: (said: RingerSaid) => void
}

/** The running kiosk, without any screen. */
export type Kiosk = {
  readonly clock: Clock
  /** Takes a time from the server, and shows it at once: not first at the next tick. */
  readonly hear: (serverAtMs: number, isPutRight: boolean) => void
  /**
   * The time for screens: told twice a second, once while no bell is near, and at once when more or less is
   * known of it.
   */
  readonly reading: ReadonlySignal<ClockReading>
  /** The reading with which that changed last: for what does not change with the time itself. */
  readonly known: ReadonlySignal<ClockReading>
  /** When what the shop holds changed last here, UTC ms: what was just pressed or read is not after what screens show. */
  readonly changedAt: ReadonlySignal<number>
  readonly speaker: Speaker
  readonly ringer: Ringer
  /** What may ring, set by the code that folds the log. */
  readonly open: Signal<Open>
  readonly stop: () => void
}

const NOTHING: Open = {
  bells: [],
  facts: { emptied: new Set(), baking: new Set() },
  known: () => undefined,
  rules: USUAL_RULES,
  isFloodKnown: false,
}

/** By less than this a heartbeat puts nothing right that a screen shows. */
const PUT_RIGHT_MS = 50

/** Whether as much is known of the time, and it runs as it did. */
const isAsKnown = (one: ClockReading, other: ClockReading): boolean =>
  one.sync === other.sync &&
  one.warns === other.warns &&
  Math.abs(one.deviceOffsetMs - other.deviceOffsetMs) < PUT_RIGHT_MS &&
  Math.abs(one.differenceMs - other.differenceMs) < PUT_RIGHT_MS

/** A bell that comes within this time is near: also in a practice shop, whose time runs ten times as fast. */
const CALM_MS = 15_000

/** Starts clock, loudspeaker and bells, and looks at them at every tick. */
export function startKiosk(from: Sources): Kiosk {
  const monotonicMs = () => from.sample().monotonicMs
  const clock = kioskClock(from.sample, from.rememberedOffsetMs)
  const reading = signal(clock.read())
  const known = signal(reading.peek())
  const changedAt = signal(0)
  const loud = speaker(from.audio, from.wait)
  const open = signal(NOTHING)
  const ringer = new Ringer({
    clock,
    delays: tickClock(monotonicMs),
    speaker: loud,
    monotonicMs,
    soundsHere: from.soundsHere,
    tell: from.tell,
  })
  const hear = (serverAtMs: number, isPutRight: boolean) => {
    clock.heard(serverAtMs, isPutRight)
    show(clock.read())
  }
  let stepMs = STEP_MS
  // Bells look at the clock itself, five times a second when one is near.
  const show = (read: ClockReading) => {
    const isKnown = isAsKnown(known.peek(), read)
    if (!isKnown) {
      known.value = read
      // A clock that was put back shows no time that it no longer says.
      changedAt.value = 0
    }
    const isSameStep = stepOf(reading.peek().nowMs, stepMs) === stepOf(read.nowMs, stepMs)
    if (!isKnown || !isSameStep) reading.value = read
  }
  // The loudspeaker is woken by the first tick: nothing rings before.
  let isAwake = false
  const ticking = from.ticks(() => {
    if (!isAwake) void loud.wake()
    isAwake = true
    loud.look(monotonicMs())
    const read = clock.read()
    show(read)
    ringer.look(open.value, read)
    const isCalm = ringer.isCalmUntil(read.latestMs + CALM_MS)
    stepMs = isCalm ? SECOND_MS : STEP_MS
    return { screenInMs: stepMs - (read.nowMs % stepMs), isCalm }
  })
  const forget = open.subscribe(() => {
    changedAt.value = clock.read().nowMs
    ticking.soon()
  })
  const stop = () => {
    forget()
    ticking.stop()
  }
  return { clock, hear, reading, known, changedAt, speaker: loud, ringer, open, stop }
}

/** What moves along a lane moves by less than two points of its screen in this time. */
const SLOW_STEP_MS = 15_000

type Clocks = { readonly now: ReadonlySignal<number>; readonly slow: ReadonlySignal<number> }

const clocks = new WeakMap<Kiosk, Clocks>()

function clocksOf(kiosk: Kiosk): Clocks {
  const known = clocks.get(kiosk)
  if (known) return known
  const by = (stepMs: number) => computed(() => stepOf(kiosk.reading.value.nowMs, stepMs))
  const ticked = by(STEP_MS)
  const now = computed(() => Math.max(ticked.value, kiosk.changedAt.value))
  const made = { now, slow: by(SLOW_STEP_MS) }
  clocks.set(kiosk, made)
  return made
}

/** Kiosk time in UTC ms for screens, told as `reading` is, in steps of half a second, and at once where the shop changed. */
export const screenNow = (kiosk: Kiosk): ReadonlySignal<number> => clocksOf(kiosk).now

/** The same for what nobody reads by the second: it changes four times a minute. */
export const slowNow = (kiosk: Kiosk): ReadonlySignal<number> => clocksOf(kiosk).slow

/** A countdown changes once a second; checking twice a second shows its end soon enough. */
const STEP_MS = 500
/** So often where no end is near: a slow tablet pays as much for the first of some digits as for all others together. */
const SECOND_MS = 1_000

/** The beginning of the step that an instant is in, both UTC ms. */
export const stepOf = (ms: number, stepMs: number): number => Math.floor(ms / stepMs) * stepMs
