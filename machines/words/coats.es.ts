import type { OpensBy } from '../panel/shutters.ts'
import type { Words } from './types.ts'

const WORK = { handle: 'manejar', tape: 'enmascarar', polish: 'pulir' } as const

/** Why a coat has to wait for its cup, or for the work before it. */
export const coats: Pick<
  Words['refusals'],
  | 'flashNotOver'
  | 'cleanerWet'
  | 'notReady'
  | 'sandEarly'
  | 'wantsBase'
  | 'colourOff'
  | 'ratioOff'
  | 'noActivator'
  | 'optionOutside'
  | 'neverCures'
  | 'filmOver'
  | 'openFade'
  | 'forcedNoFigure'
  | 'cleanerOver'
> = {
  flashNotOver: ({ why }, _, clearsAt) =>
    why === 'notKnown'
      ? 'No se conoce la evaporación antes del calor. Escríbala en la ficha (minutos, o “ninguna”).'
      : clearsAt === undefined
        ? 'No evapora con este aire: hay demasiada humedad.'
        : 'Aún no ha evaporado.',
  cleanerWet: () => 'El limpiador sigue húmedo. Déjelo secar primero.',
  notReady: ({ what, limit }) =>
    limit === null
      ? `Con este aire nunca se podrá ${WORK[what]}.`
      : `Aún no se puede ${WORK[what]}.`,
  sandEarly: () => 'Es pronto para lijar: se embota y se rasga.',
  wantsBase: ({ limit }, { name }) =>
    `Primero aplique otra vez ${name(limit)} donde se quitó la basura.`,
  colourOff: ({ limit, value, card }) =>
    value === null
      ? `No se midió ninguna muestra del color ${card} con esta mezcla. Mida una primero.`
      : `La muestra ${card} está a ${value.toFixed(1)} del panel (ΔE00); el taller difumina hasta ${limit}. Entíntelo de nuevo.`,
  ratioOff: ({ limit, value, about, part, by, add }, { volume, grams }) => {
    const of = by === 'mass' ? grams : volume
    const adds = add.map(({ name, amount }) => `${of(amount)} de ${name}`).join(', ')
    return `El vaso ${about} tiene ${of(value)} de ${part}; necesita de ${of(limit.least)} a ${of(limit.most)}. Agregue ${adds}.`
  },
  noActivator: ({ about, part }) => `El vaso ${about} no tiene ${part}. Nunca curará.`,
  optionOutside: ({ limit, value, about }, f) =>
    `${about} es para ${f.temperature(limit.minC)} a ${f.temperature(limit.maxC)}; hay ${f.temperature(value)}.`,
  openFade: () =>
    'Este transparente no termina en un borde ni en una línea. Puede notarse después.',
  forcedNoFigure: () => 'Visto mate con ventiladores; la ficha no da cifra para ellos.',
  cleanerOver: ({ value }, { name }) =>
    `Desengrasado sobre ${name(value)}: el limpiador puede levantarlo.`,
  filmOver: ({ limit, value }) => `Su película llega a ${value} µm; la ficha admite ${limit} µm.`,
  neverCures: () => 'Una mano no lleva catalizador y no curará. Quítela, o deshaga su vaso.',
}

/** What lies under a coat that must not go on. */
export const UNDER = {
  never: 'Su ficha dice que nunca va sobre este producto.',
  existing: 'Primero lije el acabado viejo como dice su ficha.',
  overspray: 'Primero quite lijando la niebla que los cantos dejaron en esta cara.',
} as const

const BODIES: Readonly<Record<string, string>> = {
  car: 'un auto',
  van: 'una van',
  'pick-up': 'una pick-up',
}

/** What can be wrong with a color and with what stands beside it. */
export const colourRules: Pick<Words['rules'], 'lab' | 'panelOfBody' | 'besidePanel'> = {
  lab: () => 'tres números: L* de 0 a 100, a* y b* de -128 a 128',
  panelOfBody: ({ body, panels }) =>
    `un panel que ${BODIES[body] ?? body} tiene: ${panels.join(', ')}`,
  besidePanel: ({ panel, panels }) => `un panel junto a ${panel}: ${panels.join(', ')}`,
}

/** What opens a shut window, as its sheet says; `unsaid` where no work on the panel is known to. */
export const OPENS: Readonly<Record<OpensBy | 'unsaid', string>> = {
  abrade: 'Líjelo.',
  abradeAndRecoat: 'Líjelo y dé otra mano del mismo producto.',
  reapply: 'Dé primero otra mano del mismo producto, sin lijar.',
  recoat: 'Ya está lijado: ahora dé otra mano del mismo producto.',
  unsaid: 'Lije, o siga la ficha.',
}
