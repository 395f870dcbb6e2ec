import { isKept, NOT_KEPT, SIGNALS, type Signal } from './signals.ts'

/**
 * Every defect with what may have caused it: a row a cause, the most usual first. General trade
 * practice; the maker's sheet and a look at the panel always go before it.
 *
 *     what in the log would show it | in which layers | acts together with | what would decide it
 *
 * Several signals in a row are the same cause seen in several ways. Layers: `top` is all color and
 * clear, `color` the base, `clear` what stands last, `under` primer and sealer, `any` all of them,
 * `promoter` what went over an adhesion promoter. What is `wet` acts together: too much solvent, shut in.
 * Signals are explained in signals.ts; what no entry says is named too, so that a page can ask for a look.
 */
const TABLE = {
  solventPop: `
    flashShort nextShort            | top      | wet | cutPit
    standingShort bakeHot           | top      |     | heatedSide
    filmHeavy                       | top      | wet | gauge
    tooFast                         | top      |     | cupLabel
    hot                             | top      |     | partHeat`,
  dieback: `
    flashShort nextShort            | top      | wet | solventRub
    filmHeavy                       | top      | wet | gauge
    activatorShort activatorOver    | clear    |     | nailTest
    cupOld                          | clear    |     | sameCup
    bakeShort standingShort         | clear    |     | heatSpot
    undercoatShort                  | under    |     | sandDown
    handledEarly                    | clear    |     | nailTest`,
  runs: `
    filmHeavy                       | top      | wet | gauge
    flashShort                      | top      | wet | cutRun
    tooSlow                         | top      |     | cupLabel
    cold                            | top      | wet | partHeat
    needleBig turnsOpen             | top      |     | gunOnPaper
    pressureLow                     | top      |     | gunOnPaper
    reducerOver                     | top      |     | weighAgain`,
  orangePeel: `
    pressureLow                     | top      |     | gunOnPaper
    tooFast                         | top      |     | cupLabel
    hot                             | top      |     | partHeat
    filmThin filmHeavy              | top      |     | gauge
    needleBig turnsOpen             | top      |     | gunOnPaper
    cupOld                          | top      |     | sameCup`,
  drySpray: `
    pressureHigh                    | top      |     | gunOnPaper
    tooFast                         | top      |     | cupLabel
    hot                             | top      |     | partHeat
    turnsClosed needleSmall         | top      |     | gunOnPaper
    filmThin                        | top      |     | gauge`,
  mottle: `
    flashShort                      | color    | wet | sprayCard
    filmHeavy                       | color    | wet | gauge
    nextShort                       | clear    | wet | cutPit
    noDropCoat                      | color    |     | sprayCard
    pressureLow                     | color    |     | gunOnPaper
    tooSlow                         | color    |     | cupLabel
    humid                           | color    |     | airAgain`,
  fisheyes: `
    cleanSkipped                    | any      |     | waterBreak
    cleanLong                       | any      |     | waterBreak
    airLine                         | any      |     | whiteCloth`,
  lifting: `
    windowOver                      | any      |     | sandDown
    undercoatShort                  | under    |     | solventRub
    isolatorSkipped                 | any      |     | solventRub
    filmHeavy                       | any      | wet | gauge`,
  wrinkling: `
    filmHeavy                       | any      | wet | gauge
    bakeHot standingShort           | any      |     | heatedSide
    hot                             | any      |     | partHeat
    activatorShort activatorOver reducerOver | any |   | weighAgain
    windowOver                      | any      |     | sandDown`,
  peeling: `
    windowOver                      | any      |     | tapeTest
    scuffSkipped cleanSkipped promoterSkipped | any |  | tapeTest
    dewNear                         | any      |     | tapeTest
    nextShort filmHeavy             | top      | wet | tapeTest
    activatorShort activatorOver    | clear    |     | nailTest
    gritFine                        | any      |     | tapeTest`,
  dust: `
    filters doors                   | any      |     | loupe
    tackSkipped                     | top      |     | loupe
    notStrained                     | top      |     | loupe
    tooSlow cold                    | clear    |     | partHeat`,
  sandScratch: `
    gritCoarse                      | any      |     | sandDown
    undercoatShort                  | under    |     | solventRub
    filmHeavy                       | any      | wet | gauge
    flashShort                      | any      | wet | sandDown
    tooSlow                         | any      |     | cupLabel`,
  blushing: `
    humid                           | top      |     | airAgain
    dewNear                         | top      |     | airAgain
    tooFast                         | top      |     | cupLabel
    cold                            | top      |     | partHeat`,
  bleeding: `
    isolatorSkipped                 | any      |     | solventRub
    activatorOver                   | under    |     | sandDown`,
  poorHiding: `
    coatsFew                        | color    |     | hidingCard
    filmThin                        | color    |     | gauge
    reducerOver                     | color    |     | weighAgain
    notStirred                      | color    |     | stirAgain
    groundShade                     | color    |     | hidingCard`,
  colorMismatch: `
    cardMissing                     | color    |     | sprayCard
    pressureLow pressureHigh        | color    |     | gunOnPaper
    filmHeavy filmThin              | color    | wet | gauge
    flashShort                      | color    | wet | sprayCard
    coatsFew coatsMany              | color    |     | sprayCard
    notStirred                      | color    |     | stirAgain
    otherMix                        | color    |     | sprayCard
    blendShort                      | color    |     | edgeLook`,
  halo: `
    blendShort                      | color    |     | edgeLook
    pressureHigh                    | color    |     | gunOnPaper
    noWetBed                        | color    |     | edgeLook
    clearOffEdge                    | clear    |     | edgeLook
    nextShort                       | clear    |     | edgeLook
    gritCoarse                      | color    |     | sandDown`,
  softFilm: `
    activatorShort activatorOver    | any      |     | nailTest
    cupOld                          | any      |     | sameCup
    cold                            | any      | wet | partHeat
    bakeShort                       | any      |     | heatSpot
    filmHeavy filmOver              | any      | wet | gauge
    flashShort                      | any      | wet | solventRub
    tooSlow                         | any      |     | cupLabel`,
  waterSpots: `
    handledEarly                    | any      |     | nailTest
    bakeShort                       | any      |     | heatSpot
    activatorShort activatorOver    | clear    |     | nailTest
    filmHeavy                       | clear    |     | gauge`,
  pinholes: `
    undercoatShort                  | under    |     | sandDown
    notStirred                      | under    |     | stirAgain
    flashShort                      | under    | wet | cutPit
    pressureLow                     | under    |     | gunOnPaper
    filmHeavy                       | under    | wet | gauge
    guideCoatSkipped                | any      |     | sandDown`,
  cracking: `
    filmOver                        | any      |     | gauge
    filmHeavy                       | any      |     | gauge
    undercoatShort                  | under    |     | sandDown
    activatorOver                   | any      |     | weighAgain
    coatsMany                       | any      |     | gauge
    notStirred                      | any      |     | stirAgain
    flexAdditive                    | any      |     | bendEdge`,
  blisters: `
    dewNear                         | any      |     | openBlister
    humid                           | any      |     | openBlister
    surfaceWet                      | any      |     | openBlister
    cleanSkipped                    | any      |     | openBlister
    airLine                         | any      |     | whiteCloth`,
  plasticFlaking: `
    promoterSkipped                 | any      |     | tapeTest
    windowOver                      | promoter |     | tapeTest
    substrateId                     | any      |     | burnMark
    bakeHot                         | any      |     | heatedSide`,
} as const

export type Defect = keyof typeof TABLE
export const DEFECTS = Object.keys(TABLE) as Defect[]

/** The one look or test that decides between causes. */
export const CHECKS = [
  'cutPit',
  'cutRun',
  'heatedSide',
  'gauge',
  'cupLabel',
  'partHeat',
  'solventRub',
  'nailTest',
  'sameCup',
  'heatSpot',
  'sandDown',
  'gunOnPaper',
  'weighAgain',
  'sprayCard',
  'airAgain',
  'waterBreak',
  'whiteCloth',
  'tapeTest',
  'loupe',
  'hidingCard',
  'stirAgain',
  'edgeLook',
  'openBlister',
  'bendEdge',
  'burnMark',
] as const
export type Check = (typeof CHECKS)[number]

/** Stages of the layers that a row names. */
export const LAYERS = {
  top: ['blender', 'base', 'midcoat', 'clear', 'single-stage'],
  color: ['blender', 'base', 'midcoat', 'single-stage'],
  clear: ['clear', 'single-stage'],
  under: ['adhesion-promoter', 'primer', 'sealer'],
  any: null,
  promoter: null,
} as const satisfies Readonly<Record<string, readonly string[] | null>>
export type Layers = keyof typeof LAYERS

/** A row of the table. Its first signal is its name. */
export type Cause = {
  readonly id: Signal
  readonly signals: readonly Signal[]
  readonly layers: Layers
  /** What acts together with others of its kind is one group, not several proofs. */
  readonly together: string | null
  readonly check: Check
  /** How usual it is among the causes of its defect, before anything is looked at. */
  readonly prior: number
}

/** What no log shows: how fast and how near the gun went, silicone in the air, a fault of the supplier. */
export const NOT_VISIBLE = 0.2
/** Each cause is so much as usual as the one before it. */
const NEXT_SHARE = 0.75

const isSignal = (word: string): word is Signal =>
  Object.hasOwn(SIGNALS, word) || (NOT_KEPT as readonly string[]).includes(word)

/** @throws Error for a row that names what there is not: the table is wrong, not the log */
function rowOf(line: string, defect: string): Omit<Cause, 'prior'> {
  const [words = '', layers = '', together = '', check = ''] = line
    .split('|')
    .map((one) => one.trim())
  const signals = words.split(/\s+/)
  const wrong = signals.find((word) => !isSignal(word))
  if (wrong !== undefined) throw new Error(`${defect}: there is no signal ${wrong}.`)
  if (!Object.hasOwn(LAYERS, layers)) throw new Error(`${defect}: there are no layers ${layers}.`)
  if (!(CHECKS as readonly string[]).includes(check))
    throw new Error(`${defect}: no check ${check}.`)
  const [id] = signals as [Signal]
  return {
    ...{ id, signals: signals as Signal[], layers: layers as Layers, check: check as Check },
    together: together === '' ? null : together,
  }
}

/**
 * The causes of a defect, the most usual first; their priors and that of what is not visible add up to 1.
 */
export function causesOf(defect: Defect): Cause[] {
  const rows = TABLE[defect]
    .trim()
    .split('\n')
    .map((line) => rowOf(line, defect))
  const weights = rows.map((_, i) => NEXT_SHARE ** i)
  const sum = weights.reduce((a, b) => a + b, 0)
  return rows.map((row, i) => ({ ...row, prior: ((1 - NOT_VISIBLE) * (weights[i] ?? 0)) / sum }))
}

/** Whether an entry of the log can show it. */
export const isKnowable = ({ signals }: Pick<Cause, 'signals'>): boolean => signals.some(isKept)
