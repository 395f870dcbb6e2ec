import type { ClockDoubt } from '../../machines/contract.ts'
import type { Clock } from '../clock.ts'

const WHY: Readonly<Record<ClockDoubt, string>> = {
  behindLog: "when the server started, the computer's clock was behind the last entry",
  unset: "when the server started, the computer's clock was not set",
  longSince: 'the server was started long after the last entry',
  jumped: "the computer's clock made a step of more than five minutes",
}

/** The state of the clock, in a sentence for the person who runs the server; `ok` where all is well. */
export function clockSentence(clock: Clock): string {
  const { doubt, wallMs } = clock.standing()
  if (doubt === null) return 'ok'
  const times = `The shop's time is ${iso(clock.now())}, the computer's clock shows ${iso(wallMs)}.`
  return `The clock is not confirmed: ${WHY[doubt]}. ${times} Confirm the time on a kiosk.`
}

const iso = (ms: number): string => new Date(ms).toISOString()
