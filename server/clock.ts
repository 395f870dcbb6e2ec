import type { ClockStanding } from '../machines/contract.ts'

/** Time as the server's parts see it. main.ts makes the real one; tests move one of their own. */
export type Clock = {
  /** UTC ms. */
  readonly now: () => number
  /** Calls `run` every `ms` until the function that it gives back is called. */
  readonly every: (ms: number, run: () => void) => () => void
  /** Whether the time has to be confirmed by a person, and what the computer's own clock shows. */
  readonly standing: () => ClockStanding
}

/** The state of a clock that is confirmed. */
export const undoubted = (wallMs: number): ClockStanding => ({ doubt: null, wallMs, era: 0 })
