import type { RefusalCode } from '../../machines/refusals.ts'
import type { PassAct } from './pass.ts'

/**
 * What the first key of each refusal does: the way out, before the override. One row a code; a code without
 * a row does not compile. Pure.
 */

export type Way =
  /** Keys of the lane itself that bring it on. */
  | { readonly by: 'act'; readonly is: (act: PassAct) => boolean }
  /** A place or a press beside the lane, drawn by `wayOut.tsx`. */
  | {
      readonly by:
        | 'mix'
        | 'pour'
        | 'colour'
        | 'cleanGun'
        | 'readAir'
        | 'room'
        | 'cool'
        | 'bakeBelow'
        | 'who'
    }
  /** It clears by itself: how long still stands in its sentence. */
  | { readonly by: 'wait' }
  /** It is only ever marked, and stops nothing. */
  | { readonly by: 'mark' }
  /** Its sentence says what to do, and no key of a lane does it. */
  | { readonly by: 'sentence' }

const act = (is: (act: PassAct) => boolean): Way => ({ by: 'act', is })
const ofType = (...types: readonly PassAct['type'][]): Way =>
  act(({ type, group }) => types.includes(type) && group !== 'more')
const WAIT: Way = { by: 'wait' }
const MARK: Way = { by: 'mark' }
const SENTENCE: Way = { by: 'sentence' }
const MIX: Way = { by: 'mix' }

export const WAYS: { readonly [C in RefusalCode]: Way } = {
  unknownThing: SENTENCE,
  idTaken: SENTENCE,
  closed: SENTENCE,
  coatRunning: ofType('FinishCoat'),
  wrongStep: SENTENCE,
  windowShut: act(
    ({ type, key, isMain }) =>
      isMain === true && (type === 'AbradePanel' || key.startsWith('more-')),
  ),
  flashNotOver: WAIT,
  // How the film looks, not what is wrong with it.
  lookFirst: act(({ type, group }) => type === 'InspectCoat' && group !== 'inspect'),
  cleanerWet: WAIT,
  notReady: { by: 'cool' },
  sandEarly: { by: 'cool' },
  wantsBase: act(({ key }) => key.startsWith('more-')),
  heatInZone: { by: 'room' },
  wetInZone: { by: 'room' },
  panelUnknown: MARK,
  jobUnknown: MARK,
  cupUnknown: MIX,
  cupEmptied: MIX,
  wrongProduct: MIX,
  wrongColour: MIX,
  colourOff: { by: 'colour' },
  inductionNotOver: WAIT,
  potLifeOver: MIX,
  keepOver: MIX,
  ratioOff: { by: 'pour' },
  noActivator: { by: 'pour' },
  gunEmpty: SENTENCE,
  gunHolds: { by: 'cleanGun' },
  airOutside: { by: 'readAir' },
  dewPoint: { by: 'readAir' },
  partTemp: { by: 'readAir' },
  partHot: { by: 'cool' },
  noPerson: { by: 'who' },
  tooManyCoats: MARK,
  filmOver: MARK,
  openFade: MARK,
  forcedNoFigure: MARK,
  cleanerOver: MARK,
  optionOutside: MARK,
  tooFewCoats: ofType('StartCoat'),
  nothingThere: ofType('StartCoat'),
  noRoom: SENTENCE,
  neverCures: SENTENCE,
  coatsMissing: ofType('StartCoat'),
  noSuchCure: ofType('StartCure'),
  vehicleLimit: { by: 'bakeBelow' },
  overheated: MARK,
  curing: ofType('EndCure'),
  notCuring: ofType('StartCure'),
  cureNotOver: ofType('ReadPart'),
  stepsLeft: ofType('DoPrepStep'),
  routeInUse: SENTENCE,
  panelsOpen: SENTENCE,
  deviationsOpen: SENTENCE,
  jobState: SENTENCE,
  bellNotDue: SENTENCE,
  snoozeNotAllowed: SENTENCE,
  entryInUse: SENTENCE,
}

/** The lane's own keys that lead out of a refusal. A start that was just refused is not one. */
export function wayActs(code: RefusalCode, acts: readonly PassAct[]): readonly PassAct[] {
  const way = WAYS[code]
  return way.by === 'act' ? acts.filter(way.is) : []
}
