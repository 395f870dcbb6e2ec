import type { Draft } from '../envelope.ts'
import { plainFolder } from '../replay.ts'
import { contextOf, type State } from '../state.ts'
import type { BellContext } from './context.ts'
import { REARM_MS, type Reach } from './kinds.ts'

const BLANK: BellContext = {
  rangAt: null,
  dueAt: null,
  acknowledged: [],
  snoozes: [],
  reached: [],
  heldUntilMs: null,
}

function reduce(bell: BellContext, entry: Draft): BellContext {
  if (entry.type === 'BellAcknowledged') {
    const said = { at: entry.at, by: entry.by, device: entry.device }
    return { ...bell, acknowledged: [...bell.acknowledged, said] }
  }
  if (entry.type === 'BellSnoozed') {
    const untilMs = entry.at + Number(entry.data.minutes) * 60_000
    return { ...bell, snoozes: [...bell.snoozes, { at: entry.at, untilMs }] }
  }
  if (entry.type === 'BellEscalated') {
    const to = entry.data.to as Reach
    const step = { at: entry.at, to, shown: entry.data.shown === true }
    return { ...bell, reached: [...bell.reached, step] }
  }
  if (entry.type === 'BellHeld') return { ...bell, heldUntilMs: Number(entry.data.untilMs) }
  // A new ring of the same bell is a new notice and starts over; only its time of being held stays.
  const { heldUntilMs } = bell
  return { ...BLANK, rangAt: entry.at, dueAt: Number(entry.data.dueAt), heldUntilMs }
}

export const bellFolder = plainFolder<BellContext>(BLANK, reduce)

export const bellOf = (state: State, key: string): BellContext | undefined =>
  contextOf(state, 'bell', key)

/** Whether a deadline has rung and has not moved later by over a minute since. */
export function hasRung(
  state: State,
  deadline: { readonly key: string; readonly dueAt: number },
): boolean {
  const rungFor = bellOf(state, deadline.key)?.dueAt ?? null
  return rungFor !== null && deadline.dueAt <= rungFor + REARM_MS
}
