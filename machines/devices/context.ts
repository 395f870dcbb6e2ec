import type { Level } from './level.ts'

/** What is known of a shop's kiosks as devices: how loud they are, what was heard, what failed. */

/** A kiosk that loses its wake lock again and again logs it no more often than this. */
export const SLEPT_EVERY_MS = 600_000

export type Said = {
  readonly at: number
  readonly by: string | null
  readonly device: string | null
}

export type LevelRecord = Level & Said & { readonly entry: string }
export type SoundTest = Said & {
  readonly pattern: string
  readonly heard: boolean
  readonly place?: string
}

export type DevicesContext = {
  /** The newest of each place. */
  readonly levels: readonly LevelRecord[]
  /** The newest of each pattern at each place, by whichever kiosk. */
  readonly tests: readonly SoundTest[]
  readonly slept: readonly { readonly at: number; readonly device: string | null }[]
  /** Whether so many bells ring at a kiosk that only the most urgent kind sounds: the newest report of each. */
  readonly floods: readonly Flood[]
  /** Steps of the server's clock, and how a person put it right, in order. */
  readonly clock: readonly ClockStep[]
}

export type ClockStep = Said & {
  /** `jumped`: by itself; `confirmed`: as a person said. */
  readonly kind: 'jumped' | 'confirmed'
  /** What was shown and what is shown instead, UTC ms. */
  readonly fromMs: number
  readonly toMs: number
}

type Flood = { readonly at: number; readonly device: string | null; readonly isOn: boolean }
