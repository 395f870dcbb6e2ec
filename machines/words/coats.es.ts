import type { Words } from './types.ts'

/** Why a coat has to wait for its cup, or for the work before it. */
export const coats: Pick<
  Words['refusals'],
  'ratioOff' | 'noActivator' | 'optionOutside' | 'neverCures'
> = {
  ratioOff: ({ limit, value, about, part, by, add }, { volume, grams }) => {
    const of = by === 'mass' ? grams : volume
    const adds = add.map(({ name, amount }) => `${of(amount)} de ${name}`).join(', ')
    return `El vaso ${about} tiene ${of(value)} de ${part}; necesita de ${of(limit.least)} a ${of(limit.most)}. Agregue ${adds}.`
  },
  noActivator: ({ about, part }) => `El vaso ${about} no tiene ${part}. Nunca curará.`,
  optionOutside: ({ limit, value, about }, f) =>
    `${about} es para ${f.temperature(limit.minC)} a ${f.temperature(limit.maxC)}; hay ${f.temperature(value)}.`,
  neverCures: () => 'Una mano no lleva catalizador y no curará. Quítela, o deshaga su vaso.',
}
