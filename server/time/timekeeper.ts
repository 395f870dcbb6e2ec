import type { ClockStanding } from '../../machines/contract.ts'
import type { Clock } from '../clock.ts'
import { confirmed, type Jump, looked, type Sample, startTime } from './shopTime.ts'

/** The clocks of the computer. Only main.ts makes the real ones. */
export type ComputerClock = {
  /** Both clocks, read at one moment. */
  readonly sample: () => Sample
  /** Calls `run` every `ms` until the function that it gives back is called. */
  readonly every: (ms: number, run: () => void) => () => void
}

/** The shop's clock, kept on those of the computer. */
export type Timekeeper = Clock & {
  /** Hears of every step of the computer's wall clock. */
  readonly onJump: (heard: (jump: Jump) => void) => void
  /** A person has said that the time is another by so much: `now` moves by it, also backwards. */
  readonly confirm: (byMs: number) => void
  readonly stop: () => void
}

/** How often the wall clock is looked at while nothing else asks for the time. */
const LOOK_MS = 1_000

/** @param lastMs the time of the last entry or of the mark beside the log; null for a new shop */
export function timekeeper(computer: ComputerClock, lastMs: number | null): Timekeeper {
  let time = startTime(computer.sample(), lastMs)
  let era = 0
  let heard: (jump: Jump) => void = () => {}

  function look(): number {
    const { time: after, jump } = looked(time, computer.sample())
    // A kiosk that carries the time at full speed must not trust what it heard before.
    if (jump || after.isSlow || after.doubt !== time.doubt) era += 1
    time = after
    if (jump) heard(jump)
    return Math.round(time.nowMs)
  }

  return {
    now: look,
    every: computer.every,
    standing(): ClockStanding {
      look()
      return { doubt: time.doubt, wallMs: time.seen.wallMs, era }
    },
    onJump(listener) {
      heard = listener
    },
    confirm(byMs) {
      time = confirmed(time, look() + byMs)
      era += 1
    },
    stop: computer.every(LOOK_MS, look),
  }
}
