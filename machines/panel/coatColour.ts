import { colourOf, colourText, fitsColour, wantedColour } from '../cup/colours.ts'
import type { CupContext } from '../cup/machine.ts'
import type { Deciding } from '../deciding.ts'
import type { Problem } from '../refusals.ts'
import type { FoundPanel } from './find.ts'

/**
 * The color of a cup that does not fit a step of a panel. Two jobs may both call a color "body": a key
 * counts within its job only.
 * @param colour the color of the step; of one without, no color of another job fits
 */
export function colourProblems(
  { state }: Deciding,
  { id, panel }: FoundPanel,
  cup: CupContext | null,
  colour: string | undefined,
): Problem[] {
  if (!cup || fitsColour(state, panel.job, colour, cup)) return []
  const wanted = wantedColour(state, panel.job, colour)
  const held = colourOf(state, cup)
  const limit = wanted && colourText(state, wanted, held)
  const value = colourText(state, held, wanted)
  return [{ code: 'wrongColour', limit, value, panel: id, about: panel.name }]
}
