import type { Climate } from '../clock/air.ts'
import type { Point } from '../clock/interval.ts'
import { endsAt } from '../clock/line.ts'
import { blindOf, type Opens } from '../sheet/intervals.ts'
import type { RecoatWithin } from '../sheet/schema.ts'
import type { PanelContext } from './context.ts'

/** What closes the window of a layer. */

/**
 * What opens a shut window: abrading; one more coat of the product that is on; both, of which `recoat` is what
 * is left once it was abraded.
 */
export type OpensBy = 'abrade' | 'abradeAndRecoat' | 'recoat' | 'reapply'

/** Something that closes the window of a coat, and when it opens again by itself. */
export type Closing = {
  readonly why: 'window' | 'mustSand' | 'cured' | 'never'
  readonly shutsAt: number
  readonly opensAgainAt: number | null
  /** It counts from the end of a bake: what was abraded before that opens nothing. */
  readonly isOfBake?: true
}

/** `opensBy`: null where no work on the panel opens it. */
export type Shutter = Closing & { readonly opensBy: OpensBy | null }

export function windowShutter(
  opens: Opens,
  within: RecoatWithin | 'never' | null,
  again: readonly Point[] | null,
  startMs: number,
  climate: Climate,
  isSameStep: boolean,
): Closing[] {
  if (within === null || within === 'unlimited') return []
  if (within === 'never') return [{ why: 'never', shutsAt: startMs, opensAgainAt: null }]
  if (within === 'mustSand') {
    return isSameStep ? [] : [{ why: 'mustSand', shutsAt: startMs, opensAgainAt: null }]
  }
  // The window of a product that is reapplied over itself does not block its own coats.
  if (isSameStep && opens.afterWindow === 'reapply') return []
  const blind = blindOf(opens)
  const shutsAt = endsAt({ kind: 'notAfter', points: within, ...blind }, startMs, climate)
  if (shutsAt === null) return []
  const opensAgainAt =
    again && endsAt({ kind: 'notBefore', points: again, ...blind }, startMs, climate)
  // A band that would end before it begins blocks nothing.
  if (opensAgainAt !== null && opensAgainAt <= shutsAt) return []
  return [{ why: 'window', shutsAt, opensAgainAt }]
}

/** Whether a layer was baked whose sheet says until when it may be coated after that. */
export const hasWindowOfBake = (
  { recoatAfterBake }: Opens,
  { heats = [] }: PanelContext,
  curedAt: number | null,
): boolean =>
  recoatAfterBake !== undefined &&
  recoatAfterBake !== 'mustSand' &&
  heats.some(({ mode, toMs }) => mode === 'bake' && toMs === curedAt)

/** What cured is too hard to be coated, but for what its sheet allows from the end of a bake on. */
export function curedShutters(
  opens: Opens,
  curedAt: number | null,
  isOfBake: boolean,
  climate: Climate,
): Closing[] {
  if (curedAt === null) return []
  if (!isOfBake) return [{ why: 'cured', shutsAt: curedAt, opensAgainAt: null }]
  const within = opens.recoatAfterBake ?? null
  return windowShutter(opens, within, null, curedAt, climate, false).map((shutter) => ({
    ...shutter,
    isOfBake: true,
  }))
}
