import { fields } from '../accept.ts'
import { type Cure, type HeatFlash, heatFlashSchema } from './cureSchema.ts'
import { allKnown, HEATS, type Heat, waitsIn } from './heatFlash.ts'
import { curesIn } from './intervals.ts'
import type { Sheet } from './schema.ts'

/** What is asked of a sheet that does not say how long its film flashes before heat. */

/** What has to be typed on a sheet before it may go into heat. */
export const heatFlashMissing = (sheet: Sheet): Heat[] =>
  HEATS.filter((heat) => allKnown(waitsIn(curesIn(sheet), heat)) === null)

/** What is asked of a sheet: a figure, or "none", for each heat of which it says nothing. */
export const heatFlashSchemaOf = (missing: readonly Heat[]) =>
  fields(Object.fromEntries(missing.map((heat) => [heat, heatFlashSchema])))

/** The sheet with these figures where it has none. What was typed on it stays. */
export function withHeatFlash(
  sheet: Sheet,
  given: Readonly<Partial<Record<Heat, HeatFlash>>>,
): Sheet {
  const filled = (cure: Cure): Cure => ({
    ...cure,
    ...(cure.bake
      ? { bake: cure.bake.map((figure) => ({ flashBefore: given.bake, ...figure })) }
      : {}),
    ...(cure.infrared ? { infrared: { flashBefore: given.infrared, ...cure.infrared } } : {}),
  })
  const ofOption = <T extends { cure?: Cure | undefined }>(option: T): T =>
    option.cure ? { ...option, cure: filled(option.cure) } : option
  return {
    ...sheet,
    cure: filled(sheet.cure),
    activators: sheet.activators.map(ofOption),
    reducers: sheet.reducers.map(ofOption),
  }
}
