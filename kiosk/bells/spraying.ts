import { isPrompt } from '../../machines/bell/deadline.ts'
import type { State } from '../../machines/state.ts'
import type { Open } from './open.ts'

/** While a painter sprays, that painter's prompts wait; alarms do not. Pure. */

/** Whether a coat runs that one of these commands started. */
export function isSpraying(state: State, starts: readonly string[]): boolean {
  return Object.values(state.things.panel).some((thing) => {
    const { open } = thing.context
    if (open === null) return false
    const start = thing.entries.findLast((entry) => entry.type === 'CoatStarted')
    return start !== undefined && starts.includes(start.command)
  })
}

/**
 * What may ring on a kiosk now.
 * @param starts the commands by which this kiosk started coats
 */
export const withoutWaiting = (open: Open, state: State, starts: readonly string[]): Open =>
  isSpraying(state, starts)
    ? { ...open, bells: open.bells.filter((bell) => !isPrompt(bell.kind)) }
    : open
