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
  /** The time for screens: told twice a second, and at once when more or less is known of it. */
  readonly reading: ReadonlySignal<ClockReading>
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

/** Whether screens would show the same: bells look at the clock itself, five times a second. */
const isSameOnScreen = (shown: ClockReading, read: ClockReading): boolean =>
  stepOf(shown.nowMs, STEP_MS) === stepOf(read.nowMs, STEP_MS) &&
  shown.sync === read.sync &&
  shown.warns === read.warns

/** A bell that comes within this time is near: also in a practice shop, whose time runs ten times as fast. */
const CALM_MS = 15_000

/** Starts clock, loudspeaker and bells, and looks at them at every tick. */
export function startKiosk(from: Sources): Kiosk {
  const monotonicMs = () => from.sample().monotonicMs
  const clock = kioskClock(from.sample, from.rememberedOffsetMs)
  const reading = signal(clock.read())
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
    reading.value = clock.read()
  }
  // The loudspeaker is woken by the first tick: nothing rings before.
  let isAwake = false
  const ticking = from.ticks(() => {
    if (!isAwake) void loud.wake()
    isAwake = true
    loud.look(monotonicMs())
    const read = clock.read()
    if (!isSameOnScreen(reading.peek(), read)) reading.value = read
    ringer.look(open.value, read)
    return {
      screenInMs: STEP_MS - (read.nowMs % STEP_MS),
      isCalm: ringer.isCalmUntil(read.latestMs + CALM_MS),
    }
  })
  const forget = open.subscribe(() => ticking.soon())
  const stop = () => {
    forget()
    ticking.stop()
  }
  return { clock, hear, reading, speaker: loud, ringer, open, stop }
}

/** What moves along a lane moves by less than two points of its screen in this time. */
const SLOW_STEP_MS = 15_000

type Clocks = { readonly now: ReadonlySignal<number>; readonly slow: ReadonlySignal<number> }

const clocks = new WeakMap<Kiosk, Clocks>()

function clocksOf(kiosk: Kiosk): Clocks {
  const known = clocks.get(kiosk)
  if (known) return known
  const by = (stepMs: number) => computed(() => stepOf(kiosk.reading.value.nowMs, stepMs))
  const made = { now: by(STEP_MS), slow: by(SLOW_STEP_MS) }
  clocks.set(kiosk, made)
  return made
}

/** Kiosk time in UTC ms for screens: it changes twice a second, not at every tick. */
export const screenNow = (kiosk: Kiosk): ReadonlySignal<number> => clocksOf(kiosk).now

/** The same for what nobody reads by the second: it changes four times a minute. */
export const slowNow = (kiosk: Kiosk): ReadonlySignal<number> => clocksOf(kiosk).slow

/** A countdown changes once a second; checking twice a second shows its end soon enough. */
const STEP_MS = 500

/** The beginning of the step that an instant is in, both UTC ms. */
export const stepOf = (ms: number, stepMs: number): number => Math.floor(ms / stepMs) * stepMs
