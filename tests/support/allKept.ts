import { settled } from '../../machines/settle.ts'
import type { State } from '../../machines/state.ts'

/**
 * A state whose entries keep what they took of cups, and cups where their panels were, as each does once the
 * other is evicted: when that was is no difference between two states.
 */
export function allKept(state: State): State {
  const { cup, panel } = state.things
  // First the panels: a cup that goes keeps nothing more itself.
  return settled(settled(state, [], Object.keys(panel)), Object.keys(cup), [])
}
