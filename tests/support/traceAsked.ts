import type { Defect } from '../../machines/trace/causes.ts'
import type { Kept, NotKept } from '../../machines/trace/signals.ts'

/**
 * What a trace is asked for, line by line: the features of a log with where each is mild and severe, the
 * defects with the features that may have caused them, and how causes are ranked. Common practice, no source.
 */

export type Feature = {
  readonly name: string
  /** The figures that it is made of. */
  readonly signals: readonly Kept[]
  /** Where each is mild and severe; a signal that is named apart has none. */
  readonly band?: readonly [mild: number, severe: number]
  readonly without?: readonly Kept[]
  /** What of it no entry says; a page names it and asks for a look. */
  readonly notKept?: readonly NotKept[]
  /** What of it is not asked for, and why. */
  readonly why?: string
}

const feature = (
  name: string,
  signals: readonly Kept[],
  band?: readonly [number, number],
  more: Omit<Feature, 'name' | 'signals' | 'band'> = {},
): Feature => ({ name, signals, ...(band ? { band } : {}), ...more })

/** In the order of their numbers, from 1. */
export const FEATURES: readonly Feature[] = [
  feature('flash between coats, of what was wanted', ['flashShort'], [0.9, 0.5]),
  feature('flash before the next layer', ['nextShort'], [0.9, 0.5]),
  feature('a recoat window that was over', ['windowOver'], [1, 1.5]),
  feature('age of a cup, of its pot life', ['cupOld'], [0.9, 1.3]),
  feature('ratio of a mix', ['activatorShort', 'activatorOver', 'reducerOver'], [0.05, 0.15]),
  feature('speed of activator or reducer for the air', ['tooFast', 'tooSlow'], [1, 2]),
  feature('air or part beside its range', ['cold', 'hot'], [2, 6]),
  feature('humidity above its limit', ['humid'], [0.05, 0.2]),
  feature('surface above the dew point', ['dewNear'], [5, 0]),
  feature('inlet pressure beside the recipe', ['pressureLow', 'pressureHigh'], [0.1, 0.3]),
  feature('needle beside the recipe', ['needleBig', 'needleSmall'], [0.1, 0.3]),
  feature('turns beside the recipe', ['turnsOpen', 'turnsClosed'], [0.5, 1.5]),
  feature('film of a coat beside its target', ['filmHeavy', 'filmThin'], [0.2, 0.5]),
  feature('coats beside the plan', ['coatsFew', 'coatsMany'], [1, 2], { without: ['noDropCoat'] }),
  feature('standing time before heat', ['standingShort'], [0.9, 0.3]),
  feature('heat and time of a bake', ['bakeShort', 'bakeHot'], [0.1, 0.3], {
    why: 'how fast a part warmed: it is read once or twice in a bake, which says nothing of the minutes between',
  }),
  feature('a step that was skipped', [], undefined, {
    without: [
      ...(['cleanSkipped', 'tackSkipped', 'promoterSkipped', 'isolatorSkipped'] as const),
      ...(['scuffSkipped', 'guideCoatSkipped'] as const),
    ],
  }),
  feature('time since the last cleaning', ['cleanLong'], [30, 120], {
    without: ['surfaceWet'],
    why: 'time since masking: no defect asks for it beside the cleaning',
  }),
  feature('paper too coarse or too fine', ['gritCoarse', 'gritFine'], [1, 2]),
  feature('cure of an undercoat', ['undercoatShort'], [0.9, 0.5]),
  feature('filters, doors and the air line', ['filters'], [1, 2], {
    notKept: ['doors', 'airLine'],
  }),
  feature('a kept mix stirred and strained', [], undefined, {
    without: ['notStirred', 'notStrained'],
  }),
  feature('color: card, mix, shade below it', [], undefined, {
    without: ['cardMissing', 'otherMix'],
    notKept: ['groundShade'],
    why: 'toners by weight: a color comes mixed, its recipe is weighed elsewhere',
  }),
  feature('how a blend was sprayed', [], undefined, {
    without: ['blendShort', 'noWetBed', 'clearOffEdge'],
  }),
  feature('handled, wet or polished early', ['handledEarly'], [0.9, 0.5], {
    why: 'rain: no entry says what the weather was',
  }),
  feature('whole film over its maximum', ['filmOver'], [0.1, 0.5]),
]

/** Named by a defect and by no feature. */
export const BESIDE: readonly NotKept[] = ['flexAdditive', 'substrateId']

/** In the order of their numbers, from 1: the numbers of the features that may have caused each. */
export const DEFECT_FEATURES: readonly (readonly [Defect, readonly number[]])[] = [
  ['solventPop', [1, 2, 15, 16, 13, 6, 7]],
  ['dieback', [1, 2, 13, 5, 4, 16, 15, 20, 25]],
  ['runs', [13, 1, 6, 7, 11, 12, 10, 5]],
  ['orangePeel', [10, 6, 7, 13, 11, 12, 4]],
  ['drySpray', [10, 6, 7, 12, 11, 13]],
  ['mottle', [1, 13, 2, 14, 10, 6, 8]],
  ['fisheyes', [17, 18, 21]],
  ['lifting', [3, 20, 17, 13]],
  // Heat that came too early is a short standing time.
  ['wrinkling', [13, 16, 15, 7, 5, 3]],
  ['peeling', [3, 17, 9, 2, 13, 5, 19]],
  // A tacky time that is long is seen by a slow speed and by cold.
  ['dust', [21, 17, 22, 6, 7]],
  ['sandScratch', [19, 20, 13, 1, 6]],
  ['blushing', [8, 9, 6, 7]],
  ['bleeding', [17, 5]],
  ['poorHiding', [14, 13, 5, 22, 23]],
  ['colorMismatch', [23, 10, 13, 1, 14, 22, 24]],
  ['halo', [24, 10, 2, 19]],
  ['softFilm', [5, 4, 7, 16, 13, 26, 1, 6]],
  ['waterSpots', [25, 16, 5, 13]],
  ['pinholes', [20, 22, 1, 10, 13, 17]],
  ['cracking', [26, 13, 20, 5, 14, 22]],
  ['blisters', [9, 8, 18, 17, 21]],
  ['plasticFlaking', [17, 3, 16]],
]
