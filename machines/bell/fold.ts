import type { Draft } from '../envelope.ts'
import { type Folder, plainFolder } from '../replay.ts'
import { contextOf, type State } from '../state.ts'
import { REARM_MS } from './kinds.ts'

/** What became of a bell: kept by its deadline's key. */
export type BellContext = {
  readonly rangAt: number | null
  /** The deadline that rang. A deadline that moves later by over a minute rings again. */
  readonly dueAt: number | null
  readonly acknowledged: readonly {
    readonly at: number
    readonly by: string | null
    readonly device: string | null
  }[]
  readonly snoozes: readonly { readonly at: number; readonly untilMs: number }[]
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
  // A new ring of the same bell starts afresh: it is a new notice.
  return { rangAt: entry.at, dueAt: Number(entry.data.dueAt), acknowledged: [], snoozes: [] }
}

export const bellFolder: Folder = plainFolder<BellContext>(
  { rangAt: null, dueAt: null, acknowledged: [], snoozes: [] },
  reduce,
)

export const bellOf = (state: State, key: string): BellContext | undefined =>
  contextOf<BellContext>(state, 'bell', key)

/** Whether a deadline has rung and has not moved later by over a minute since. */
export function hasRung(
  state: State,
  deadline: { readonly key: string; readonly dueAt: number },
): boolean {
  const rungFor = bellOf(state, deadline.key)?.dueAt ?? null
  return rungFor !== null && deadline.dueAt <= rungFor + REARM_MS
}
