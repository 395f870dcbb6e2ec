import type { PanelContext } from '../../machines/panel/context.ts'
import type { Gate } from '../../machines/panel/gate.ts'
import { opensByAt, shutAt } from '../../machines/panel/gateTimes.ts'
import type { Stage } from '../../machines/sheet/schema.ts'
import type { Moment } from './moment.ts'

/** What a lane waits for whose window is shut, as the gate says what opens it. Pure. Instants are UTC ms. */

/** The product of a coat, as its step says it. */
type Of = { readonly stage: Stage; readonly sheet: string; readonly colour: string | null }

export type AbradeWait = {
  readonly for: 'abrade'
  readonly since: number
  /** When the film is ready for paper, where that is known and still to come. */
  readonly until?: number
  /** Where it is no window that shut. */
  readonly why?: 'never' | 'existing' | 'overspray'
  /** Once abraded, it wants one more coat of what is on. */
  readonly isBeforeCoat?: true
}

export type ShutWait =
  | AbradeWait
  /** The window shut, and one more coat of what is on opens it: `of` is that product. */
  | { readonly for: 'recoat'; readonly since: number; readonly isAbraded: boolean; readonly of: Of }

/** What shuts a gate at the moment, if anything does. */
function shutNow(gate: Gate, moment: Moment): ReturnType<typeof shutAt> {
  for (const { shutsAt, opensAgainAt } of gate.shutters) {
    moment.isPast(shutsAt)
    if (opensAgainAt !== null) moment.isPast(opensAgainAt)
  }
  return shutAt(gate, moment.ms)
}

/** What a lane waits for whose window is shut; null for one that is open. */
export function waitsShut(
  panel: PanelContext,
  gate: Gate,
  moment: Moment,
): ShutWait | { readonly for: 'flash'; readonly until: number } | null {
  const shut = shutNow(gate, moment)
  if (!shut) return null
  const { shutsAt: since, opensAgainAt } = shut
  const opensBy = opensByAt(gate, moment.ms)
  if ((opensBy === 'recoat' || opensBy === 'reapply') && gate.after.opens) {
    const { stage, sheet } = gate.after.opens
    const of = { stage, sheet, colour: panel.route[gate.after.step]?.colour ?? null }
    return { for: 'recoat', since, isAbraded: opensBy === 'recoat', of }
  }
  if (shut.why === 'never') return { for: 'abrade', since, why: 'never' }
  // Nothing is abraded off what only has to dry.
  if (opensBy === null && opensAgainAt !== null) return { for: 'flash', until: opensAgainAt }
  return { for: 'abrade', since, ...(opensBy === 'abradeAndRecoat' ? { isBeforeCoat: true } : {}) }
}
