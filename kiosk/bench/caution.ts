import type { Sheet } from '../../machines/sheet/schema.ts'

/** Which cautions a mix calls for. Pure. */
export type Caution = 'isocyanate' | 'solvent' | 'sealed' | 'first'

const FLAME = /0?2$|flam/i

/**
 * Hazards that nobody typed in are treated as danger: every caution is shown.
 * @param sheet undefined where it is not known
 */
export function cautionsFor(
  sheet: Sheet | undefined,
  isActivated: boolean,
): { readonly isMissing: boolean; readonly names: readonly Caution[] } {
  const hazards = sheet?.hazards
  const isMissing = hazards === undefined
  const hasIsocyanate = isMissing || hazards.isocyanate
  const hasSolvent =
    isMissing ||
    sheet?.medium === 'solvent' ||
    hazards.pictograms.some((pictogram) => FLAME.test(pictogram))
  return {
    isMissing,
    names: [
      ...(hasIsocyanate ? (['isocyanate'] as const) : []),
      ...(hasSolvent ? (['solvent'] as const) : []),
      ...(isActivated || isMissing ? (['sealed'] as const) : []),
      'first',
    ],
  }
}
