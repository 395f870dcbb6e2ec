import type { Sheet } from '../sheet/schema.ts'
import type { State } from '../state.ts'

/** The current versions of the sheets that are not retired. */
export function currentSheets(state: State): Sheet[] {
  return Object.values(state.things.sheet).flatMap((thing) => {
    const { versions, retiredAt } = thing.context
    const latest = versions.at(-1)
    return latest && retiredAt === null ? [latest.sheet] : []
  })
}
