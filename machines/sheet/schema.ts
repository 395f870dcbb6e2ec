import * as v from 'valibot'
import { above0, fields, id40, list, number, oneOf, rh, text, whole, yesNo } from '../accept.ts'
import { pointsSchema } from '../clock/interval.ts'
import { rule } from '../contract/wrongField.ts'
import { flashBetweenSchema, kindsSchema, type sortedByKind } from './between.ts'
import {
  additiveSchema,
  cureSchema,
  notZero,
  optionSchema,
  potLifeSchema,
  standingSchema,
} from './cureSchema.ts'

/** What a step of a route is for. */
export const STAGES = [
  'prep',
  'adhesion-promoter',
  'primer',
  'sealer',
  'blender',
  'base',
  'midcoat',
  'clear',
  'single-stage',
  'cure',
  'sand',
  'polish',
] as const
export type Stage = (typeof STAGES)[number]

/** What a product may go over: what a step put there, or a finish that was there before. */
export const LAYERS = [...STAGES, 'existing'] as const

export const SPRAYED = [
  'adhesion-promoter',
  'primer',
  'sealer',
  'blender',
  'base',
  'midcoat',
  'clear',
  'single-stage',
] as const satisfies readonly Stage[]
export type SprayedStage = (typeof SPRAYED)[number]

/** Stages in which a gun is used; the others are done by hand or by waiting. */
export const isSprayed = (stage: Stage): stage is SprayedStage =>
  (SPRAYED as readonly Stage[]).includes(stage)

const recoatRule = rule('recoat', {})
const recoatSchema = v.lazy((given) =>
  typeof given === 'string'
    ? v.picklist(['unlimited', 'mustSand'], recoatRule)
    : v.pipe(pointsSchema, notZero(recoatRule)),
)

/** Over another product it may also be that it must never go on. */
const overRecoatSchema = v.lazy((given) =>
  typeof given === 'string'
    ? v.picklist(['unlimited', 'mustSand', 'never'], recoatRule)
    : v.pipe(pointsSchema, notZero(recoatRule)),
)

const fraction = number(0, 1, 'fraction')

const componentSchema = fields({
  name: text(60),
  role: text(40),
  parts: number(0, 1_000, 'parts'),
  densityGPerMl: v.optional(number(0.2, 5, 'g/mL')),
  volatile: v.optional(fraction),
  water: v.optional(fraction),
  exempt: v.optional(fraction),
})

const coatsRule = rule('coatsInOrder', {})
export const coatsSchema = v.pipe(
  fields({ least: whole(1, 20), planned: whole(1, 20), most: whole(1, 20) }),
  v.check((c) => c.least <= c.planned && c.planned <= c.most, coatsRule),
)
export type Coats = v.InferOutput<typeof coatsSchema>

/** Some of the three; the others are the sheet's. Given together they must agree. */
export const someCoatsSchema = v.pipe(
  fields({
    least: v.optional(whole(1, 20)),
    planned: v.optional(whole(1, 20)),
    most: v.optional(whole(1, 20)),
  }),
  v.check(
    ({ least = 1, planned = least, most = 20 }) =>
      least <= planned && planned <= most && least <= most,
    coatsRule,
  ),
)

/** What may be abraded with instead of paper. */
export const PADS = ['red', 'gray', 'ultrafine', 'paste'] as const
export type Pad = (typeof PADS)[number]

const readyFigure = v.optional(standingSchema)

/** As a sheet prints it, one number, or from one to another. */
const gritSchema = v.lazy((given) =>
  typeof given === 'string'
    ? text(20)
    : typeof given === 'object' && given !== null && !Array.isArray(given)
      ? fields({ from: whole(16, 10_000), to: whole(16, 10_000) })
      : whole(16, 10_000),
)

/** How a product to come wants abraded what it goes over. */
export const prepSchema = fields({
  over: oneOf(LAYERS),
  gritMin: v.optional(whole(16, 10_000)),
  gritMax: v.optional(whole(16, 10_000)),
  pads: v.optional(list(oneOf(PADS), 0, 4)),
})
export type Prep = v.InferOutput<typeof prepSchema>

/** A sheet field by field; `sheetSchema` also looks at what contradicts itself. */
export const sheetFields = fields({
  sheet: id40,
  name: text(80),
  edition: v.optional(text(40)),
  /** Invented, to begin with: until somebody has checked its figures against a maker's sheet. */
  sample: v.optional(yesNo),
  stage: v.picklist(SPRAYED, rule('oneOf', { words: SPRAYED })),
  medium: oneOf(['solvent', 'waterborne']),
  /** The humidity at which a waterborne flash was measured. */
  rhRef: v.optional(number(0, 0.94, 'fraction'), 0.5),
  components: v.pipe(
    list(componentSchema, 1, 12),
    v.check((all) => all.some((c) => c.parts > 0), rule('somePart', {})),
  ),
  by: oneOf(['volume', 'mass']),
  percentOf: v.optional(oneOf(['sum', 'base'])),
  /** The share of a component that it may be off its ratio. */
  ratioTolerance: v.optional(number(0, 1, 'fraction')),
  potLife: potLifeSchema,
  keepDays: v.optional(above0(3_650, 'days')),
  /** From when the reducer went in. */
  keepDaysReduced: v.optional(above0(3_650, 'days')),
  induction: v.optional(pointsSchema),
  flashBy: v.optional(oneOf(['time', 'appearance']), 'time'),
  floorMin: v.optional(number(0, 1_440, 'min'), 0),
  /** Seen matte, any other product may follow: the sheet's own time does not count before it. */
  matteOnly: v.optional(yesNo),
  flashBetween: flashBetweenSchema,
  /** A waterborne flash under air movers, at the sheet's reference. */
  forcedDry: v.optional(fields({ minutes: above0(1_440, 'min') })),
  /** Where another kind of coat waits otherwise. */
  flashByKind: v.optional(kindsSchema),
  flashBeforeNext: pointsSchema,
  recoatWithin: recoatSchema,
  afterWindow: v.optional(oneOf(['abrade', 'abradeAndRecoat', 'reapply']), 'abrade'),
  recoatAgainAfter: v.optional(pointsSchema),
  /** From the end of a bake: without it, what was baked has to be abraded. */
  recoatAfterBake: v.optional(recoatSchema),
  /** After a coat that went on heavy, beside the other figures. */
  heavyCoat: v.optional(fields({ flashBetween: pointsSchema, flashBeforeNext: pointsSchema })),
  /** Clear has to be on within this of the first coat, whatever goes over it in between. */
  clearWithinFromFirstCoat: v.optional(pointsSchema),
  /** How what this product goes over has to be abraded. */
  prepFor: v.optional(list(prepSchema, 0, 11)),
  over: v.optional(
    list(
      v.pipe(
        fields({
          /** A stage, or one product of it. */
          stage: v.optional(oneOf(LAYERS)),
          sheet: v.optional(id40),
          flashBeforeNext: v.optional(pointsSchema),
          recoatWithin: v.optional(overRecoatSchema),
        }),
        v.check(
          ({ stage, sheet }) => (stage === undefined) !== (sheet === undefined),
          rule('stageOrSheet', {}),
        ),
      ),
      0,
      11,
    ),
    [],
  ),
  cure: v.optional(cureSchema, {}),
  coats: coatsSchema,
  dryUmPerCoat: v.optional(above0(1_000, 'µm')),
  maxFilmUm: v.optional(above0(5_000, 'µm')),
  solids: v.optional(fraction),
  /** As the sheet prints it, or a flow cup and its seconds. */
  viscosity: v.optional(
    v.lazy((given) =>
      typeof given === 'string' ? text(60) : fields({ cup: text(20), seconds: above0(600, 's') }),
    ),
  ),
  strainUm: v.optional(above0(1_000, 'µm')),
  grit: v.optional(gritSchema),
  limits: v.optional(
    fields({
      minC: v.optional(number(-30, 60, '°C')),
      maxC: v.optional(number(-30, 60, '°C')),
      maxRh: v.optional(rh),
      /** Of the part itself; the most holds in a bake as well. */
      minPartC: v.optional(number(-30, 60, '°C')),
      maxPartC: v.optional(number(0, 250, '°C')),
    }),
    {},
  ),
  gun: v.optional(
    fields({
      needleMm: above0(10, 'mm'),
      inletKpa: above0(1_500, 'kPa'),
      distanceCm: above0(100, 'cm'),
      turns: v.optional(above0(20)),
    }),
  ),
  activators: v.optional(list(optionSchema, 0, 12), []),
  reducers: v.optional(list(optionSchema, 0, 12), []),
  additives: v.optional(list(additiveSchema, 0, 12)),
  ready: v.optional(
    fields({
      dustFree: readyFigure,
      handle: readyFigure,
      tape: readyFigure,
      sand: readyFigure,
      polish: readyFigure,
    }),
  ),
  finish: v.optional(oneOf(['gloss', 'matte'])),
  hazards: v.optional(
    fields({
      signal: text(20),
      pictograms: list(text(20), 0, 9),
      isocyanate: yesNo,
      words: v.lazy((given) => (typeof given === 'string' ? text(200) : list(text(80), 0, 12))),
    }),
  ),
  vocCategory: v.optional(text(60)),
})

type AsTyped = v.InferOutput<typeof sheetFields>
export type Sheet = ReturnType<typeof sortedByKind<AsTyped>>

export type RecoatWithin = Sheet['recoatWithin']
