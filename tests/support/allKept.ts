import { settled, settledFromGun } from '../../machines/settle.ts'
import type { State } from '../../machines/state.ts'

/**
 * A state whose entries keep what they took of cups and out of guns, and cups where their panels were, as each does once the
 * other is evicted: when that was is no difference between two states.
 */
export function allKept(state: State): State {
  const { cup, gun, panel } = state.things
  const fromGuns = Object.keys(gun).reduce(settledFromGun, state)
  // First the panels: a cup that goes keeps nothing more itself.
  return settled(settled(fromGuns, [], Object.keys(panel)), Object.keys(cup), [])
}
