import type { Words } from './types.ts'

/** What keeps heat and wet paint apart. */
export const room: Pick<
  Words['refusals'],
  'heatInZone' | 'wetInZone' | 'partTemp' | 'partHot' | 'vehicleLimit' | 'overheated'
> = {
  heatInZone: ({ value }) =>
    `Heat is on in zone ${value}. No wet paint beside it: end the heat first.`,
  wetInZone: ({ why, value }) =>
    ({
      coat: `${value} is being sprayed beside it. No heat until that coat is finished and its vapor is gone.`,
      purge: `Vapor of the last coat is still in zone ${value}. Let the air move first.`,
      flash: `${value} is still wet beside it.`,
      water: `${value} is still wet beside it, with waterborne paint.`,
    })[why],
  partTemp: ({ limit, value }, { temperature }) =>
    value < limit
      ? `The part is at ${temperature(value)}. Warm it to ${temperature(limit)} first.`
      : `The part is at ${temperature(value)}. Let it cool to ${temperature(limit)} first.`,
  partHot: () => 'The panel is still hot. Measure it, or let it cool: paint boils on hot metal.',
  vehicleLimit: ({ limit, value, about }, { temperature }) =>
    `The bake is set to ${temperature(value)}. ${about} takes ${temperature(limit)} at most.`,
  overheated: ({ limit, value }, { temperature }) =>
    `The part is at ${temperature(value)}; its sheet allows ${temperature(limit)}.`,
}
