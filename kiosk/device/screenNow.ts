import { computed, type ReadonlySignal } from '@preact/signals'
import type { Kiosk } from './runtime.ts'

/** A countdown changes once a second; checking twice a second shows its end soon enough. */
const STEP_MS = 500

const clocks = new WeakMap<Kiosk, ReadonlySignal<number>>()

/** Kiosk time in UTC ms for screens: it changes twice a second, not at every tick. */
export function screenNow(kiosk: Kiosk): ReadonlySignal<number> {
  const known = clocks.get(kiosk)
  if (known) return known
  const made = computed(() => Math.floor(kiosk.reading.value.nowMs / STEP_MS) * STEP_MS)
  clocks.set(kiosk, made)
  return made
}
