import type { Words } from './types.ts'

/** What keeps heat and wet paint apart. */
export const room: Pick<Words['refusals'], 'heatInZone' | 'wetInZone'> = {
  heatInZone: ({ value }) =>
    `Heat is on in zone ${value}. No wet paint beside it: end the heat first.`,
  wetInZone: ({ why, value }) =>
    ({
      coat: `${value} is being sprayed beside it. No heat until that coat is finished and its vapor is gone.`,
      purge: `Vapor of the last coat is still in zone ${value}. Let the air move first.`,
      flash: `${value} is still wet beside it.`,
      water: `${value} is still wet beside it, with waterborne paint.`,
    })[why],
}
