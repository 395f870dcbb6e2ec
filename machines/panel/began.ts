import type { State } from '../state.ts'
import type { FinishedCoat, PanelContext } from './context.ts'
import { sprayMs } from './spraying.ts'

/** Of a pass whose order is a guess, this share of its length is added to a panel's own end. */
const GUESS_SHARE = 0.2

/** From when the clocks of a coat run. */
type Began = { readonly flashMs: number; readonly windowMs: number }

/**
 * Where the order of a pass is a guess, a panel may have been sprayed later than its share of it
 * says, or sooner: a flash runs from the later moment, before another product from the end of the
 * pass, and a window from where the share began.
 */
export function beganAt(
  state: State,
  panel: PanelContext,
  { finishedAt, share }: FinishedCoat,
  isSameStep: boolean,
): Began {
  if (!share) return { flashMs: finishedAt, windowMs: finishedAt }
  const { passToMs } = share
  const ownFromMs = finishedAt - sprayMs(state, panel, passToMs)
  const passFromMs = share.passFromMs ?? ownFromMs
  const later = finishedAt + Math.round(GUESS_SHARE * (passToMs - passFromMs))
  return {
    flashMs: isSameStep ? Math.min(passToMs, later) : passToMs,
    windowMs: Math.max(passFromMs, ownFromMs),
  }
}
