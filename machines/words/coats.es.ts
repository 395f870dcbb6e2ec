import type { Words } from './types.ts'

const WORK = { handle: 'manejar', tape: 'enmascarar', polish: 'pulir' } as const

/** Why a coat has to wait for its cup, or for the work before it. */
export const coats: Pick<
  Words['refusals'],
  | 'cleanerWet'
  | 'notReady'
  | 'sandEarly'
  | 'wantsBase'
  | 'ratioOff'
  | 'noActivator'
  | 'optionOutside'
  | 'neverCures'
  | 'filmOver'
> = {
  cleanerWet: () => 'El limpiador sigue húmedo. Déjelo secar primero.',
  notReady: ({ what, limit }) =>
    limit === null
      ? `Con este aire nunca se podrá ${WORK[what]}.`
      : `Aún no se puede ${WORK[what]}.`,
  sandEarly: () => 'Es pronto para lijar: se embota y se rasga.',
  wantsBase: ({ limit }, { name }) => `Primero aplique ${name(limit)} sobre lo desbastado.`,
  ratioOff: ({ limit, value, about, part, by, add }, { volume, grams }) => {
    const of = by === 'mass' ? grams : volume
    const adds = add.map(({ name, amount }) => `${of(amount)} de ${name}`).join(', ')
    return `El vaso ${about} tiene ${of(value)} de ${part}; necesita de ${of(limit.least)} a ${of(limit.most)}. Agregue ${adds}.`
  },
  noActivator: ({ about, part }) => `El vaso ${about} no tiene ${part}. Nunca curará.`,
  optionOutside: ({ limit, value, about }, f) =>
    `${about} es para ${f.temperature(limit.minC)} a ${f.temperature(limit.maxC)}; hay ${f.temperature(value)}.`,
  filmOver: ({ limit, value }) => `Su película llega a ${value} µm; la ficha admite ${limit} µm.`,
  neverCures: () => 'Una mano no lleva catalizador y no curará. Quítela, o deshaga su vaso.',
}
