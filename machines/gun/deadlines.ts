import { type Deadline, type IsAbout, nearAt, ofAll } from '../bell/deadline.ts'
import type { State } from '../state.ts'
import { firstToEnd } from './find.ts'

/** A gun with activated material in it must be cleaned, whatever became of the cup. */
export function gunDeadlines(state: State, isAbout: IsAbout = ofAll): Deadline[] {
  return Object.entries(state.things.gun).flatMap(([id, thing]) => {
    if (!isAbout(id)) return []
    const first = firstToEnd(state, thing.context)
    if (!first) return []
    const { load, endsAt } = first
    const startMs = Math.min(load.at, ...load.clocks.map((clock) => clock.startMs))
    const made = (bell: 'gunNear' | 'gunDue', dueAt: number): Deadline => ({
      key: `${bell}:${id}:${load.entry}`,
      bell,
      thing: { kind: 'gun', id },
      dueAt,
    })
    const near = load.warns ? [made('gunNear', nearAt(startMs, endsAt, 10, 0.2))] : []
    return [...near, made('gunDue', endsAt)]
  })
}
