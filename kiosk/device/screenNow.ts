import { computed, type ReadonlySignal } from '@preact/signals'
import type { Kiosk } from './runtime.ts'
import { STEP_MS, stepOf } from './steps.ts'

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
