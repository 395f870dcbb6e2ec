import type { Words } from './types.ts'

/** Why a coat has to wait for its cup, or for the work before it. */
export const coats: Pick<
  Words['refusals'],
  'ratioOff' | 'noActivator' | 'optionOutside' | 'neverCures'
> = {
  ratioOff: ({ limit, value, about, part, by, add }, { volume, grams }) => {
    const of = by === 'mass' ? grams : volume
    const adds = add.map(({ name, amount }) => `${of(amount)} ${name}`).join(', ')
    return `Cup ${about} has ${of(value)} ${part}; it needs ${of(limit.least)} to ${of(limit.most)}. Add ${adds}.`
  },
  noActivator: ({ about, part }) => `Cup ${about} has no ${part} in it. It will never cure.`,
  optionOutside: ({ limit, value, about }, f) =>
    `${about} is for ${f.temperature(limit.minC)} to ${f.temperature(limit.maxC)}; it is ${f.temperature(value)}.`,
  neverCures: () => 'A coat has no activator in it and will not cure. Strip it, or undo its cup.',
}
