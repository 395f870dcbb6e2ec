import { type WrongFields, wrongAt } from './contract/wrongField.ts'
import type { AnyCommand } from './contract.ts'
import { devicesOf } from './devices/fold.ts'
import type { Command } from './envelope.ts'
import { MINUTE_MS } from './refusals.ts'
import type { State } from './state.ts'

/** A time this far ahead at most is a clock's error and becomes now. */
const AHEAD_MS = 5_000
/** A command whose time is this near its arrival is live: it may be refused. */
const LIVE_MS = 10_000
/** A time may be typed this far back freely; further back it needs a reason. */
const FREE_BACK_MS = 10 * MINUTE_MS
/** And this far with a reason; further back a lead has to stand for it. */
export const LEAD_BACK_MS = 12 * 60 * MINUTE_MS

export type Times = { readonly at: number; readonly enteredAt: number; readonly isLive: boolean }

const tooLate = (field: string, given: number, nowMs: number): WrongFields =>
  wrongAt(field, given, 'notAhead', { nowMs })

/**
 * When a command happened and was entered.
 * @param now when it arrived, UTC ms
 * @returns the times, or the field that cannot be: what is to come, or long past without a reason
 */
export function timesOf(command: Command, now: number): Times | WrongFields {
  const { at = command.enteredAt ?? now, enteredAt = now } = command
  if (enteredAt > now + AHEAD_MS) return tooLate('enteredAt', enteredAt, now)
  if (at > now + AHEAD_MS) return tooLate('at', at, now)
  if (at > enteredAt + AHEAD_MS) {
    return wrongAt('at', at, 'notAfterEntry', { enteredAtMs: enteredAt })
  }
  const said = (command.data as { reason?: unknown } | undefined)?.reason ?? command.reason
  const backMs = typedBackMs(command, { at, enteredAt })
  if (backMs > FREE_BACK_MS && said === undefined)
    return wrongAt('reason', undefined, 'lateReason', { minutes: Math.round(backMs / MINUTE_MS) })
  return { at: Math.min(at, now), enteredAt: Math.min(enteredAt, now), isLive: now - at <= LIVE_MS }
}

/** How long before it was entered something happened, as it is typed, ms. Being recorded late is not counted. */
export function typedBackMs(command: Command, { at, enteredAt }: Omit<Times, 'isLive'>): number {
  // A coat's start may be typed back beside its finish: it is as late as if it had been sent alone.
  const { startedAt } = (command.data as { startedAt?: unknown } | undefined) ?? {}
  return enteredAt - (typeof startedAt === 'number' ? Math.min(at, startedAt) : at)
}

/** How long a press may come from a kiosk that does not know yet how the time was corrected. */
const PUT_RIGHT_MS = 12 * 60 * MINUTE_MS
/** A step up to this was followed without asking anybody. */
const FOLLOWED_MS = 5 * MINUTE_MS

/** How far the shop's time was put back of late, ms: so far ahead a kiosk's own may still be. */
function putBackMs(state: State, now: number): number {
  return devicesOf(state).clock.reduce((sum, { kind, at, fromMs, toMs }) => {
    const backMs = fromMs - toMs
    const wasFollowed = kind === 'confirmed' || Math.abs(backMs) <= FOLLOWED_MS
    const counts = wasFollowed && backMs > 0 && Math.abs(now - at) <= PUT_RIGHT_MS + backMs
    return counts ? sum + backMs : sum
  }, 0)
}

/** A command as it is decided, and the time to decide it at. */
export type Heard = { readonly command: AnyCommand; readonly now: number }

/**
 * A command that arrives while the clocks of server and kiosk differ. After the shop's time was put
 * back, what a kiosk says to have happened a little later than now has just happened. While the
 * server's time is not confirmed nobody knows which of the two is right: a press that is ahead by up
 * to twelve hours is taken as a late fact of its own time.
 * @param now when it arrived by the server's time, UTC ms
 */
export function heardAs(
  state: State,
  command: AnyCommand,
  now: number,
  isConfirmed: boolean,
): Heard {
  const saidMs = Math.max(command.at ?? now, command.enteredAt ?? now)
  const aheadMs = saidMs - now
  if (aheadMs <= AHEAD_MS) return { command, now }
  const isOfTheClock = command.type === 'ConfirmClock'
  if (!isConfirmed && aheadMs <= PUT_RIGHT_MS && !isOfTheClock)
    return { command, now: saidMs + LIVE_MS + 1 }
  const mostMs = AHEAD_MS + (isConfirmed ? putBackMs(state, now) : PUT_RIGHT_MS)
  return aheadMs <= mostMs ? { command: notAfter(command, now), now } : { command, now }
}

const notAfter = (command: AnyCommand, now: number): AnyCommand => ({
  ...command,
  ...(command.at === undefined ? {} : { at: Math.min(command.at, now) }),
  ...(command.enteredAt === undefined ? {} : { enteredAt: Math.min(command.enteredAt, now) }),
})
