import { type FieldError, fieldError } from './accept.ts'
import type { Command } from './envelope.ts'
import { MINUTE_MS } from './refusals.ts'

/** Up to so far ahead is a clock's slip and becomes now. */
const AHEAD_MS = 5_000
/** So near its arrival a command is live: it may be refused. */
const LIVE_MS = 10_000
/** A time may be typed this far back freely; further back it needs a reason. */
const FREE_BACK_MS = 10 * MINUTE_MS

export type Times = { readonly at: number; readonly enteredAt: number; readonly isLive: boolean }

const tooLate = (field: string, given: number, now: number): FieldError =>
  fieldError(field, given, `a time not more than 5 s after ${now}, the time now (UTC ms)`)

/**
 * When a command happened and was entered.
 * @param now when it arrived, UTC ms
 * @returns the times, or the field that cannot be: what is to come, or long past without a reason
 */
export function timesOf(command: Command, now: number): Times | { readonly error: FieldError } {
  const { at = command.enteredAt ?? now, enteredAt = now } = command
  if (enteredAt > now + AHEAD_MS) return { error: tooLate('enteredAt', enteredAt, now) }
  if (at > now + AHEAD_MS) return { error: tooLate('at', at, now) }
  if (at > enteredAt + AHEAD_MS) {
    return { error: fieldError('at', at, `a time not after it was entered (${enteredAt})`) }
  }
  const said = (command.data as { reason?: unknown } | undefined)?.reason ?? command.reason
  if (enteredAt - at > FREE_BACK_MS && said === undefined) {
    const accepted = `a reason, since this is said to have happened ${Math.round((enteredAt - at) / MINUTE_MS)} min before it was entered`
    return { error: fieldError('reason', undefined, accepted) }
  }
  return { at: Math.min(at, now), enteredAt: Math.min(enteredAt, now), isLive: now - at <= LIVE_MS }
}
