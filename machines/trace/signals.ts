/**
 * What a log can say for or against a cause. Each signal has a figure, from where on it is mild and
 * where it is severe, and how far inside its limits it speaks against the cause.
 */

export const LEVELS = ['clearlyWithin', 'within', 'mild', 'clear', 'severe'] as const
export type Level = (typeof LEVELS)[number]

type Unit = 'ratio' | 'share' | 'C' | 'rh' | 'mm' | 'turns' | 'coats' | 'min' | 'steps' | 'yes'

type Band = {
  readonly unit: Unit
  /** From here on it is mild; at `severe` it is severe, half-way there clear. */
  readonly mild: number
  readonly severe: number
  /** From here on it speaks clearly against. */
  readonly clearly: number
  /** What the panels of a pass share: their cup, their air, their gun. The rest is a panel's own. */
  readonly isShared?: true
}

const own = (unit: Unit, mild: number, severe: number, clearly: number): Band => ({
  ...{ unit, mild, severe, clearly },
})
const shared = (unit: Unit, mild: number, severe: number, clearly: number): Band => ({
  ...own(unit, mild, severe, clearly),
  isShared: true,
})
/** Done or not: 1 was left out, 0.5 was asked for and skipped, 0 was done. */
const yes = own('yes', 0.25, 1, 0)
const sharedYes: Band = { ...yes, isShared: true }

/** Common practice, no source, unless a sheet gives the limit that the figure is measured against. */
export const SIGNALS = {
  flashShort: own('ratio', 0.9, 0.5, 1),
  nextShort: own('ratio', 0.9, 0.5, 1),
  standingShort: own('ratio', 0.9, 0.3, 1),
  undercoatShort: own('ratio', 0.9, 0.5, 1),
  surfaceWet: own('ratio', 0.9, 0.5, 1),
  windowOver: own('ratio', 1, 1.5, 0.8),
  cupOld: shared('ratio', 0.9, 1.3, 0.7),
  activatorShort: shared('share', 0.05, 0.15, 0.02),
  activatorOver: shared('share', 0.05, 0.15, 0.02),
  reducerOver: shared('share', 0.05, 0.15, 0.02),
  tooFast: shared('steps', 1, 2, 0),
  tooSlow: shared('steps', 1, 2, 0),
  cold: shared('C', 2, 6, -2),
  hot: shared('C', 2, 6, -2),
  humid: shared('rh', 0.05, 0.2, -0.1),
  dewNear: own('C', 5, 0, 8),
  pressureLow: shared('share', 0.1, 0.3, 0.05),
  pressureHigh: shared('share', 0.1, 0.3, 0.05),
  needleBig: shared('mm', 0.1, 0.3, 0.05),
  needleSmall: shared('mm', 0.1, 0.3, 0.05),
  turnsOpen: shared('turns', 0.5, 1.5, 0.25),
  turnsClosed: shared('turns', 0.5, 1.5, 0.25),
  filmHeavy: own('share', 0.2, 0.5, 0.1),
  filmThin: own('share', 0.2, 0.5, 0.1),
  filmOver: own('share', 0.1, 0.5, 0),
  coatsFew: own('coats', 1, 2, 0),
  coatsMany: own('coats', 1, 2, 0),
  noDropCoat: yes,
  bakeShort: own('share', 0.1, 0.3, 0),
  bakeHot: own('share', 0.1, 0.3, 0.05),
  cleanSkipped: yes,
  tackSkipped: yes,
  isolatorSkipped: yes,
  promoterSkipped: yes,
  scuffSkipped: yes,
  guideCoatSkipped: yes,
  cleanLong: own('min', 30, 120, 15),
  gritCoarse: own('steps', 1, 2, 0),
  gritFine: own('steps', 1, 2, 0),
  notStirred: sharedYes,
  notStrained: sharedYes,
  cardMissing: sharedYes,
  otherMix: yes,
  blendShort: yes,
  noWetBed: yes,
  clearOffEdge: yes,
  handledEarly: own('ratio', 0.9, 0.5, 1),
  filters: shared('ratio', 1, 2, 0.7),
} as const satisfies Readonly<Record<string, Band>>

/** What no entry of this log says, so that a page can name it and ask for a look. */
export const NOT_KEPT = ['airLine', 'doors', 'groundShade', 'flexAdditive', 'substrateId'] as const

export type Kept = keyof typeof SIGNALS
export type NotKept = (typeof NOT_KEPT)[number]
export type Signal = Kept | NotKept

export const isKept = (signal: Signal): signal is Kept => Object.hasOwn(SIGNALS, signal)

export const bandOf = (signal: Kept): Band => SIGNALS[signal]

/** A binary fraction must not make 0.15 of 0.14999. */
const HAIR = 1e-9

/**
 * How bad a figure is. Monotonic: a worse figure never has a lower level.
 * @param isMeasured whether the figure rests on a measurement; else the best it is said to be is within
 */
export function levelOf(signal: Kept, value: number, isMeasured = true): Level {
  const { mild, severe, clearly } = bandOf(signal)
  const share = (value - mild) / (severe - mild) + HAIR
  if (share >= 1) return 'severe'
  if (share >= 0.5) return 'clear'
  if (share >= 0) return 'mild'
  const isClearly = severe > mild ? value <= clearly + HAIR : value >= clearly - HAIR
  return isClearly && isMeasured ? 'clearlyWithin' : 'within'
}

/** One figure of a signal, at its spot. */
export type Finding = {
  readonly signal: Kept
  readonly level: Level
  /** In the unit of its signal, but for waits: what passed and what was wanted, ms. */
  readonly value: number | null
  readonly limit: number | null
  readonly panel: string
  /** The stage of the coat that it is about, and of what lay under that. */
  readonly stage: string | null
  readonly over: string | null
  readonly coat: number | null
  readonly cup: string | null
  readonly at: number
  /** The entry to jump to. */
  readonly entry: string
  /** Nothing that can be off: the product has no activator, the panel no promoter. */
  readonly isMoot?: true
}
