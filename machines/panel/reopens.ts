import type { DropOver } from '../sheet/between.ts'
import type { Prep, Sheet } from '../sheet/schema.ts'
import { type CoatKind, lastCoat, type PanelContext } from './context.ts'
import { isPrepared, type Layer } from './layers.ts'
import type { Closing, OpensBy } from './shutters.ts'

/** What opens the window of a layer again. */

/** The step that a coat belongs to, and what its product says of what it goes over. */
export type Coming = {
  readonly target: number
  readonly kind: CoatKind
  readonly sheet: Sheet | undefined
  /** What the shop says of its drop coats. */
  readonly dropOver: DropOver | undefined
  /** How what lies under it has to be abraded. */
  readonly prepOver: (over: Prep['over']) => Prep | undefined
}

/** Whether abrading has removed what closed the window. */
export function isAbraded(
  { opens, worked, coat }: Layer,
  shutter: Closing,
  { target, prepOver: prepOf }: Coming,
): boolean {
  if (shutter.why === 'never') return false
  const { abradedAt, curedAt, abrasion } = worked
  const isSameStep = coat.step === target
  const prep = isSameStep ? undefined : prepOf(opens.stage)
  if (abradedAt === null || !isPrepared(prep, abrasion)) return false
  if (shutter.isOfBake && abradedAt < (curedAt ?? 0)) return false
  if (shutter.why === 'cured') return abradedAt >= (curedAt ?? 0)
  if (shutter.why === 'mustSand' || abradedAt < shutter.shutsAt) return true
  if (opens.afterWindow === 'abrade') return true
  // After the window the same product has to go on again before the next product.
  return opens.afterWindow === 'abradeAndRecoat' && isSameStep
}

/** What opens the window of a layer that abrading alone has not opened, if anything does. */
export function opensByOf(
  layer: Layer,
  shutter: Closing,
  coming: Coming,
  panel: PanelContext,
): OpensBy | null {
  const { coat, opens } = layer
  // What was baked and is only to be reapplied has no way: its bake ended that window for the same product too.
  if (shutter.why === 'never' || (shutter.isOfBake && opens.afterWindow === 'reapply')) return null
  const isByPaper = shutter.why !== 'window' || opens.afterWindow === 'abrade'
  if (isByPaper || coat.step === coming.target) return 'abrade'
  // One more coat goes onto what was sprayed last, and onto nothing that lies lower.
  if (coat.step !== lastCoat(panel)?.step) return null
  if (opens.afterWindow === 'reapply') return 'reapply'
  const own = { ...coming, target: coat.step }
  return isAbraded(layer, shutter, own) ? 'recoat' : 'abradeAndRecoat'
}
