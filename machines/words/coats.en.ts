import type { OpensBy } from '../panel/shutters.ts'
import type { Words } from './types.ts'

const WORK = { handle: 'handle', tape: 'tape', polish: 'polish' } as const

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
      ? 'Flash before heat is not known. Enter it on the sheet (minutes, or “none”).'
      : clearsAt === undefined
        ? 'It does not flash in this air: too humid.'
        : 'It has not flashed yet.',
  cleanerWet: () => 'The cleaner is still wet. Let it dry first.',
  notReady: ({ what, limit }) =>
    limit === null
      ? `It never gets ready to ${WORK[what]} in this air.`
      : `Not ready to ${WORK[what]} yet.`,
  sandEarly: () => 'Too early to sand: it clogs and tears.',
  wantsBase: ({ limit }, { name }) => `Spray ${name(limit)} again where it was sanded first.`,
  colourOff: ({ limit, value, card }) =>
    value === null
      ? `No card of color ${card} was measured with this mix. Measure one first.`
      : `Card ${card} is ${value.toFixed(1)} from the panel (ΔE00); the shop blends up to ${limit}. Tint it again.`,
  ratioOff: ({ limit, value, about, part, by, add }, { volume, grams }) => {
    const of = by === 'mass' ? grams : volume
    const adds = add.map(({ name, amount }) => `${of(amount)} ${name}`).join(', ')
    return `Cup ${about} has ${of(value)} ${part}; it needs ${of(limit.least)} to ${of(limit.most)}. Add ${adds}.`
  },
  noActivator: ({ about, part }) => `Cup ${about} has no ${part} in it. It will never cure.`,
  optionOutside: ({ limit, value, about }, f) =>
    `${about} is for ${f.temperature(limit.minC)} to ${f.temperature(limit.maxC)}; it is ${f.temperature(value)}.`,
  openFade: () => 'This clear does not end at an edge or body line. The fade may show later.',
  forcedNoFigure: () => 'Seen matte under air movers; the sheet has no figure for them.',
  cleanerOver: ({ value }, { name }) => `Degreased over ${name(value)}: the cleaner may lift it.`,
  filmOver: ({ limit, value }) => `Its film comes to ${value} µm; the sheet allows ${limit} µm.`,
  neverCures: () => 'A coat has no activator in it and will not cure. Strip it, or undo its cup.',
}

/** What lies under a coat that must not go on. */
export const UNDER = {
  never: 'Its sheet says that it must never go over this product.',
  existing: 'Abrade the old finish as its sheet says first.',
  overspray: 'Abrade the overspray of the edges off this face first.',
} as const

/** What can be wrong with a color and with what stands beside it. */
export const colourRules: Pick<Words['rules'], 'lab' | 'panelOfBody' | 'besidePanel'> = {
  lab: () => 'three numbers: L* 0 to 100, a* and b* -128 to 128',
  panelOfBody: ({ body, panels }) => `a panel that a ${body} has: ${panels.join(', ')}`,
  besidePanel: ({ panel, panels }) => `a panel beside ${panel}: ${panels.join(', ')}`,
}

/** What opens a shut window, as its sheet says; `unsaid` where no work on the panel is known to. */
export const OPENS: Readonly<Record<OpensBy | 'unsaid', string>> = {
  abrade: 'Abrade it.',
  abradeAndRecoat: 'Abrade it, then spray one more coat of the same product.',
  reapply: 'Spray one more coat of the same product first, without abrading.',
  recoat: 'It is abraded: now spray one more coat of the same product.',
  unsaid: 'Abrade it, or follow the sheet.',
}
