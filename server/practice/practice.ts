import { PROTOCOL } from '../../machines/contract.ts'
import { undoubted } from '../clock.ts'
import type { Writer } from '../handle.ts'
import type { ComputerClock, Timekeeper } from '../time/timekeeper.ts'
import { PRACTICE_DAY } from './day.ts'

/** Ten minutes of the practice shop pass in one of ours. */
export const PRACTICE_SPEED = 10
const MINUTE_MS = 60_000

/** A clock of the practice shop: it can be set while the morning is laid out, then runs fast. */
export type PracticeClock = Timekeeper & { readonly set: (ms: number) => void }

/**
 * Runs on the monotonic clock: a practice morning is of no day, and no step of the wall clock moves it.
 * @param computer the clocks of this computer
 * @param speed how many times as fast this one runs
 */
export function practiceClock(computer: ComputerClock, speed: number): PracticeClock {
  const runMs = () => computer.sample().monotonicMs
  let begun = { real: runMs(), shown: computer.sample().wallMs }
  const now = () => Math.round(begun.shown + (runMs() - begun.real) * speed)
  return {
    now,
    every: computer.every,
    standing: () => undoubted(now()),
    onJump() {},
    confirm() {},
    stop() {},
    set(ms) {
      begun = { real: runMs(), shown: ms }
    },
  }
}

/**
 * Lays out the invented morning, so that it ends now: only in a shop that has nothing in it yet.
 * @throws Error naming the line that the shop's rules did not take: the day would not be what it says
 */
export async function layOut(writer: Writer, clock: PracticeClock): Promise<void> {
  if (Object.keys(writer.state().things.job).length > 0) return
  const begins = clock.now()
  for (const [i, { minBefore, type, data }] of PRACTICE_DAY.entries()) {
    clock.set(begins - minBefore * MINUTE_MS)
    const answer = await writer.handle({ id: `practice-${i}`, protocol: PROTOCOL, type, data })
    if (answer.status !== 200) {
      throw new Error(`The practice day's line ${i}, ${type}: ${JSON.stringify(answer.body)}`)
    }
  }
  clock.set(begins)
}
