import { type Deadline, isPrompt } from '../../machines/bell/deadline.ts'
import { deadlines } from '../../machines/deadlines.ts'
import type { State } from '../../machines/state.ts'
import type { Moment } from './moment.ts'

/** What rings for a panel. Pure. */

const ofPanels = new WeakMap<readonly Deadline[], ReadonlyMap<string, readonly Deadline[]>>()

/** The deadlines of each panel. */
function deadlinesByPanel(state: State): ReadonlyMap<string, readonly Deadline[]> {
  const all = deadlines(state)
  const known = ofPanels.get(all)
  if (known) return known
  const made = new Map<string, Deadline[]>()
  for (const one of all) {
    for (const id of one.panels ?? [one.thing.id]) {
      const own = made.get(id)
      if (own) own.push(one)
      else made.set(id, [one])
    }
  }
  ofPanels.set(all, made)
  return made
}

/** A deadline of this panel that has come; an alarm is shown before a prompt. */
export function bellNow(state: State, id: string, moment: Moment): Deadline | null {
  const due = (deadlinesByPanel(state).get(id) ?? []).filter((d) => moment.isPast(d.dueAt))
  return due.find((d) => !isPrompt(d.bell)) ?? due[0] ?? null
}
