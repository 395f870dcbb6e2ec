import type { Sample } from './shopTime.ts'

/** What a computer has of clocks. */
export type Readings = {
  /** Never steps; on some systems it stops while the computer sleeps. */
  readonly runMs: () => number
  /** UTC ms. */
  readonly wallMs: () => number
  /** Since the system was started, sleep included; whole seconds do. */
  readonly upMs: () => number
}

/** Two clocks read further apart than this cannot be compared. */
const APART_MS = 50
const TRIES = 3
/** The time since the start counts whole seconds. */
const COARSE_MS = 2_000

/**
 * Both clocks at one moment. Where the wall clock has run ahead of the monotonic one, the time since
 * the system's start tells whether the computer slept: then it is no step, and the sleep is counted.
 */
export function sampling({ runMs, wallMs, upMs }: Readings): () => Sample {
  const upAtStart = upMs() - runMs()
  let sleptMs = 0
  let aheadMs = wallMs() - runMs()

  function together(): { run: number; wall: number } {
    for (let tries = 1; ; tries += 1) {
      const run = runMs()
      const wall = wallMs()
      if (runMs() - run < APART_MS || tries === TRIES) return { run, wall }
    }
  }

  return () => {
    const { run, wall } = together()
    if (wall - run - aheadMs > COARSE_MS) {
      const slept = upMs() - run - upAtStart
      if (slept - sleptMs > COARSE_MS) sleptMs = slept
    }
    aheadMs = wall - run
    return { monotonicMs: run + sleptMs, wallMs: wall }
  }
}
