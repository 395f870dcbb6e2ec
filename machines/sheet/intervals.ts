import type { Point } from '../clock/interval.ts'
import type { Interval } from '../clock/line.ts'
import { distinct } from '../distinct.ts'
import type { BetweenFigure, CoatKind } from './between.ts'
import type { Cure, HeatFlash, SheetOption } from './cureSchema.ts'
import type { RecoatWithin, Sheet } from './schema.ts'

/** "Matte only" without a floor of its own has this one. Common practice, no source. */
const MATTE_FLOOR_MIN = 2

/** A bake as copied into an entry. Only time at or above tempC counts. */
export type BakeFigure = {
  readonly tempC: number
  readonly minutes: number
  readonly basis: 'part' | 'air'
  /** Not there: nobody has typed it, so it is not known. */
  readonly flashBefore?: Interval
}

export type CureOfOne = {
  readonly air: Interval | null
  readonly bake: readonly BakeFigure[]
  readonly infrared: { readonly minutes: number; readonly flashBefore?: Interval } | null
}

/** A cure as copied into an entry. */
export type CureFigures = CureOfOne & {
  /** The warmest that the part may become, °C. */
  readonly maxPartC?: number
  /** Infrared and bake each have a bell of their own. Coats of before have one for both. */
  readonly heatByMode?: true
  /** What activators and reducers in the same film say besides: the film is cured when all are met. */
  readonly also?: readonly CureOfOne[]
}

/** The cure of a film: the figures of every product, activator and reducer in it. */
export const curesOf = (figures: CureFigures): readonly CureOfOne[] => [
  figures,
  ...(figures.also ?? []),
]

/**
 * What a finished coat opens, copied into its entry, so that a later edit of the sheet never moves
 * the past. Where activator and reducer both carry a figure, both stand and the more cautious binds.
 */
export type Opens = {
  readonly sheet: string
  readonly sheetVersion: number
  readonly stage: Sheet['stage']
  readonly flashBy: 'time' | 'appearance'
  readonly floorMin: number
  /** Seen matte, another product waits for the time as well. Coats of before did not. */
  readonly countsTime?: true
  readonly flashBetween: readonly Interval[]
  /** What a coat of another kind waits for, where the sheet says so. */
  readonly betweenBy?: BetweenBy
  readonly flashBeforeNext: readonly Interval[]
  readonly recoatWithin: RecoatWithin
  readonly recoatAgainAfter: readonly Point[] | null
  readonly recoatAfterBake?: RecoatWithin
  readonly afterWindow: Sheet['afterWindow']
  readonly cure: CureFigures
  readonly clearWithinFromFirstCoat?: readonly Point[]
  /** When the film may be worked on, where the sheet says so. */
  readonly ready?: Ready
  /** It was sprayed without its activator. */
  readonly neverCures?: true
}

/** A wait of one kind of coat: clocks, the eye, or none but for how long the coat before is wet. */
export type KindWait =
  | { readonly by: 'clock'; readonly flash: readonly Interval[] }
  | { readonly by: 'eye' }
  | { readonly by: 'wet'; readonly withinMin?: number }
type BetweenBy = { readonly [K in CoatKind]?: KindWait }

export type ReadyFor = 'dustFree' | 'handle' | 'tape' | 'sand' | 'polish'
type Ready = { readonly [K in ReadyFor]?: Interval }

/** What is named for a cup: its activator, its reducer, its additives. A name that the sheet does not have is not here. */
export function chosenOptions(
  sheet: Sheet,
  activator?: string,
  reducer?: string,
  additives: readonly string[] = [],
): SheetOption[] {
  return [
    sheet.activators.find((a) => a.name === activator),
    sheet.reducers.find((r) => r.name === reducer),
    ...(sheet.additives ?? []).filter(({ name }) => additives.includes(name)),
  ].filter((option) => option !== undefined)
}

/** A not-before of a sheet's points, by the clock alone. */
export const waitOf = (points: readonly Point[]): Interval => ({
  kind: 'notBefore',
  points,
  nearWhenBlind: true,
})

/** How the other clocks of a coat run while nobody knows the air: as its flash does. */
export const blindOf = ({ flashBetween }: Pick<Opens, 'flashBetween'>) =>
  flashBetween[0]?.nearWhenBlind ? { nearWhenBlind: true as const } : {}

/** A not-before of a sheet's points; a flash of a waterborne product follows the drying power of the air. */
function flash(sheet: Sheet, points: readonly Point[]): Interval {
  const interval: Interval = { kind: 'notBefore', points, nearWhenBlind: true }
  return sheet.medium === 'waterborne'
    ? {
        ...interval,
        waterborneRhRef: sheet.rhRef,
        isTable: true,
        ...(sheet.forcedDry ? { forcedMin: sheet.forcedDry.minutes } : {}),
      }
    : interval
}

/** What the sheet says of the coming coat's kind; nothing where it has one figure for all. */
function betweenIn(sheet: Sheet): { betweenBy?: BetweenBy } {
  const { withinMin, ...kinds } = sheet.flashByKind ?? {}
  const waitOf = (figure: BetweenFigure): KindWait => {
    if (figure === 'matte') return { by: 'eye' }
    if (figure === 'intoWet')
      return { by: 'wet', ...(withinMin === undefined ? {} : { withinMin }) }
    return { by: 'clock', flash: [flash(sheet, figure)] }
  }
  const waits = Object.entries(kinds).flatMap(([kind, figure]) =>
    // A full coat by the clock waits as its activator and reducer say.
    figure === undefined ? [] : [[kind, waitOf(figure)] as const],
  )
  return waits.length === 0 ? {} : { betweenBy: Object.fromEntries(waits) }
}

/** Points, "none", or a maker's single number of minutes, which is taken to be meant at 20 °C. */
export const asPoints = (given: number | 'none' | readonly Point[]): readonly Point[] =>
  given === 'none'
    ? [{ atC: 20, minutes: 0 }]
    : typeof given === 'number'
      ? [{ atC: 20, minutes: given }]
      : given

/** The figures for work on the film that the sheet gives: what it does not say is not known. */
function readyIn({ ready }: Sheet): { ready?: Ready } {
  const given = (['dustFree', 'handle', 'tape', 'sand', 'polish'] as const).flatMap((what) => {
    const figure = ready?.[what]
    return figure === undefined ? [] : [[what, waitOf(asPoints(figure))] as const]
  })
  return given.length > 0 ? { ready: Object.fromEntries(given) } : {}
}

/** Below the least temperature of its sheet a film does not cure. */
function coldOf({ limits: { minPartC, minC } }: Sheet): { leastC?: number } {
  const leastC = minPartC ?? minC
  return leastC === undefined ? {} : { leastC }
}

/** The lamp's minutes in all. */
const lampMin = ({ minutes = 0, halfMin = 0 }: NonNullable<Cure['infrared']>): number =>
  halfMin + minutes

function cureFigures(sheet: Sheet, cure: Cure): CureOfOne {
  const { air, bake = [], infrared } = cure
  const before = (given: HeatFlash | undefined) =>
    given === undefined ? {} : { flashBefore: flash(sheet, asPoints(given)) }
  return {
    air: air ? { ...waitOf(air), ...coldOf(sheet) } : null,
    bake: bake.map(({ flashBefore, ...figure }) => ({ ...figure, ...before(flashBefore) })),
    infrared: infrared ? { minutes: lampMin(infrared), ...before(infrared.flashBefore) } : null,
  }
}

/** The cures of a sheet and of each of its activators and reducers. */
export const curesIn = (sheet: Sheet): CureOfOne[] =>
  [sheet, ...sheet.activators, ...sheet.reducers, ...(sheet.additives ?? [])].flatMap(({ cure }) =>
    cure === undefined ? [] : [cureFigures(sheet, cure)],
  )

/** The options' own figures if one has any, else the sheet's. */
export function figures<T>(
  options: readonly SheetOption[],
  of: (o: SheetOption) => T | undefined,
  own: T,
): T[] {
  const carried = options.map(of).filter((figure) => figure !== undefined)
  return carried.length > 0 ? carried : [own]
}

/**
 * What a coat of this product opens at its finish.
 * @param version the sheet's version of that day
 * @param options the activator and reducer in the cup
 */
export const opensOf = (sheet: Sheet, version: number, options: readonly SheetOption[]): Opens =>
  opensOfAll(sheet, version, [options], 'full')

/**
 * The same for a film of several mixes, such as from a cup that was joined of them: what each says
 * stands, and the more cautious binds.
 * @param mixes the activator, reducer and additives of each; at least one
 * @param kind of the coat: a heavy one has figures of its own beside these
 */
export function opensOfAll(
  sheet: Sheet,
  version: number,
  mixes: readonly (readonly SheetOption[])[],
  kind: CoatKind,
): Opens {
  const all = <T>(of: (o: SheetOption) => T | undefined, own: T): T[] =>
    distinct(mixes.flatMap((options) => figures(options, of, own)))
  const flashes = (all: readonly (readonly Point[])[]) => all.map((points) => flash(sheet, points))
  const [cure = {}, ...also] = all((o) => o.cure, sheet.cure)
  const heavy = kind === 'heavy' && sheet.heavyCoat ? [sheet.heavyCoat] : []
  return {
    sheet: sheet.sheet,
    sheetVersion: version,
    stage: sheet.stage,
    flashBy: sheet.flashBy,
    floorMin: sheet.matteOnly && sheet.floorMin === 0 ? MATTE_FLOOR_MIN : sheet.floorMin,
    ...(sheet.flashBy === 'appearance' && !sheet.matteOnly ? { countsTime: true } : {}),
    flashBetween: flashes([
      ...all((o) => o.flashBetween, sheet.flashBetween),
      ...heavy.map((one) => one.flashBetween),
    ]),
    ...betweenIn(sheet),
    flashBeforeNext: flashes([
      ...all((o) => o.flashBeforeNext, sheet.flashBeforeNext),
      ...heavy.map((one) => one.flashBeforeNext),
    ]),
    recoatWithin: sheet.recoatWithin,
    recoatAgainAfter: sheet.recoatAgainAfter ?? null,
    ...(sheet.recoatAfterBake === undefined ? {} : { recoatAfterBake: sheet.recoatAfterBake }),
    afterWindow: sheet.afterWindow,
    cure: {
      ...cureFigures(sheet, cure),
      ...(sheet.limits.maxPartC === undefined ? {} : { maxPartC: sheet.limits.maxPartC }),
      heatByMode: true,
      ...(also.length === 0 ? {} : { also: also.map((one) => cureFigures(sheet, one)) }),
    },
    ...(sheet.clearWithinFromFirstCoat
      ? { clearWithinFromFirstCoat: sheet.clearWithinFromFirstCoat }
      : {}),
    ...readyIn(sheet),
  }
}

/**
 * The later sheet's own word on what it may go over. The film that flashes is the earlier one, so
 * its medium decides how the air counts.
 */
export function overFigures(later: Sheet | undefined, under: Opens) {
  const over =
    later?.over.find((o) => o.sheet === under.sheet) ??
    later?.over.find((o) => o.stage === under.stage)
  const { waterborneRhRef: rhRef, isTable, forcedMin } = under.flashBeforeNext[0] ?? {}
  const flashBeforeNext: Interval[] = over?.flashBeforeNext
    ? [
        {
          kind: 'notBefore',
          points: over.flashBeforeNext,
          ...blindOf(under),
          ...(rhRef === undefined ? {} : { waterborneRhRef: rhRef }),
          ...(isTable ? { isTable } : {}),
          ...(forcedMin === undefined ? {} : { forcedMin }),
        },
      ]
    : []
  return { flashBeforeNext, recoatWithin: over?.recoatWithin ?? null }
}

/** The clocks that a finished coat opens by its own figures: flashes and window. */
export function intervalsOf(opens: Opens): Interval[] {
  const { flashBetween, flashBeforeNext, recoatWithin, recoatAgainAfter } = opens
  return [
    ...flashBetween,
    ...flashBeforeNext,
    ...(typeof recoatWithin === 'string'
      ? []
      : [{ kind: 'notAfter' as const, points: recoatWithin, ...blindOf(opens) }]),
    ...(recoatAgainAfter
      ? [{ kind: 'notBefore' as const, points: recoatAgainAfter, ...blindOf(opens) }]
      : []),
  ]
}
