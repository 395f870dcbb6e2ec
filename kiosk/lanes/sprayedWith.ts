import { byOccurrence, type Draft } from '../../machines/envelope.ts'
import { contextOf, type State } from '../../machines/state.ts'

/** What started the coat that is being sprayed on a panel; undefined where none is. */
function startOf(state: State, panel: string): Draft | undefined {
  const open = contextOf(state, 'panel', panel)?.open
  if (!open) return undefined
  const isStart = (e: Draft) => e.type === 'CoatStarted' && e.at === open.startedAt
  return state.things.panel[panel]?.entries.findLast(isStart)
}

/**
 * The panels that are sprayed in one pass with this one and not finished yet, itself included, in
 * the order in which they were started: one touch finishes them all.
 */
export function sprayedWith(state: State, panel: string): string[] {
  const command = startOf(state, panel)?.command
  return Object.keys(state.things.panel)
    .flatMap((id) => {
      const start = startOf(state, id)
      return start !== undefined && start.command === command ? [{ id, start }] : []
    })
    .sort((a, b) => byOccurrence(a.start, b.start))
    .map(({ id }) => id)
}
