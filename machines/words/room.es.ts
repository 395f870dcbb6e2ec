import type { Words } from './types.ts'

/** What keeps heat and wet paint apart. */
export const room: Pick<
  Words['refusals'],
  'heatInZone' | 'wetInZone' | 'partTemp' | 'partHot' | 'vehicleLimit' | 'overheated'
> = {
  heatInZone: ({ value }) =>
    `Hay calor en la zona ${value}. Nada de pintura fresca al lado: termine primero el calor.`,
  wetInZone: ({ why, value }) =>
    ({
      coat: `Se está pintando ${value} al lado. Sin calor hasta terminar esa mano y sacar sus vapores.`,
      purge: `Aún hay vapores de la última mano en la zona ${value}. Deje correr el aire primero.`,
      flash: `${value} sigue fresca al lado.`,
      water: `${value} sigue fresca al lado, con pintura al agua.`,
    })[why],
  partTemp: ({ limit, value }, { temperature }) =>
    value < limit
      ? `La pieza está a ${temperature(value)}. Caliéntela primero a ${temperature(limit)}.`
      : `La pieza está a ${temperature(value)}. Déjela enfriar primero a ${temperature(limit)}.`,
  partHot: () =>
    'El panel sigue caliente. Mídalo o déjelo enfriar: sobre metal caliente la pintura hierve.',
  vehicleLimit: ({ limit, value, about }, { temperature }) =>
    `El horneado está puesto a ${temperature(value)}. ${about} aguanta ${temperature(limit)} como máximo.`,
  overheated: ({ limit, value }, { temperature }) =>
    `La pieza está a ${temperature(value)}; su ficha permite ${temperature(limit)}.`,
}
