import type { Deadline, IsAbout } from './bell/deadline.ts'
import { hasRung } from './bell/fold.ts'
import { cupDeadlines } from './cup/deadlines.ts'
import { compareText } from './envelope.ts'
import { gunDeadlines } from './gun/deadlines.ts'
import { panelDeadlines } from './panel/deadlines.ts'
import type { State } from './state.ts'

// A state is immutable, so what was calculated from it once stays valid.
const cached = new WeakMap<State, readonly Deadline[]>()

/**
 * Every moment that a shop waits for, in order of time. It needs no clock: a deadline in the past
 * stays until its work is done.
 */
export function deadlines(state: State): readonly Deadline[] {
  const known = cached.get(state)
  if (known) return known
  const all = [...panelDeadlines(state), ...cupDeadlines(state), ...gunDeadlines(state)].sort(
    (a, b) => a.dueAt - b.dueAt || compareText(a.key, b.key),
  )
  cached.set(state, all)
  return all
}

/**
 * The deadline of one key, without the others: of a shop's lanes only those are calculated that it may be about.
 * @returns undefined where nothing waits for it
 */
export function deadlineOf(state: State, key: string): Deadline | undefined {
  const isAbout: IsAbout = (name) => key.includes(`:${name}`)
  const own = cached.get(state) ?? [
    ...panelDeadlines(state, isAbout),
    ...cupDeadlines(state, isAbout),
    ...gunDeadlines(state, isAbout),
  ]
  return own.find((deadline) => deadline.key === key)
}

/** The bells that are due and have not rung. */
export const dueBells = (state: State, now: number): readonly Deadline[] =>
  deadlines(state).filter((deadline) => deadline.dueAt <= now && !hasRung(state, deadline))
