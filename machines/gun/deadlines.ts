import { type Deadline, type IsAbout, ofAll } from '../bell/deadline.ts'
import type { State } from '../state.ts'
import { gunEndsAt } from './find.ts'

/** A gun with activated material in it must be cleaned, whatever became of the cup. */
export function gunDeadlines(state: State, isAbout: IsAbout = ofAll): Deadline[] {
  return Object.entries(state.things.gun).flatMap(([id, thing]) => {
    if (!isAbout(id)) return []
    const gun = thing.context
    const dueAt = gunEndsAt(state, gun)
    const entry = gun.loads.at(-1)?.entry
    if (dueAt === null || entry === undefined) return []
    return [
      {
        key: `gunDue:${id}:${entry}`,
        bell: 'gunDue' as const,
        thing: { kind: 'gun' as const, id },
        dueAt,
      },
    ]
  })
}
