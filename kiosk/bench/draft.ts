import * as v from 'valibot'
import { readingsOf } from '../../machines/climate/fold.ts'
import { BENCH, defaultZone } from '../../machines/climate/zones.ts'
import type { AirReading } from '../../machines/clock/air.ts'
import { lastBefore, STALE_MS } from '../../machines/clock/line.ts'
import { COMMANDS } from '../../machines/commands.ts'
import type { JobColour } from '../../machines/job/machine.ts'
import { sheetAt } from '../../machines/sheet/fold.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { SPRAY_MIN_PER_M2, settingsOf } from '../../machines/shop/settings.ts'
import type { State } from '../../machines/state.ts'
import { activator } from '../../machines/trade/activator.ts'
import { quantity, TRANSFER } from '../../machines/trade/film.ts'
import { overPour } from '../../machines/trade/overPour.ts'
import { fieldsOf } from '../forms/spec.ts'
import { type Life, lifeOf, neededMl, ownOf, type PanelChoice, panelsFor } from './amount.ts'
import { choiceOf, type OptionChoice, shownOption } from './options.ts'
import type { Mix } from './pours.ts'

/** A cup as it is being planned and poured; what the painter left open is proposed. Pure. */

/** What is asked for before the first pour. */
export const MIX = {
  ...fieldsOf(COMMANDS.MixCup, {
    only: ['sheet', 'job', 'colour', 'activator', 'reducer', 'totalMl'],
    steps: { totalMl: 'unit' },
  }),
  ...fieldsOf(activator.schema, { only: ['warmestC'], steps: { warmestC: 'unit' } }),
  ...fieldsOf(COMMANDS.FinishCoat, { only: ['panels'] }),
  ...fieldsOf(quantity.schema, {
    steps: { areaM2: 0.1, coats: 1, dryUmPerCoat: 1, solids: 1, transfer: 5 },
  }),
  ...fieldsOf(overPour.schema, { only: ['cupMl'] }),
}

/** Empty: as proposed. An older page kept null for that. */
const text = v.fallback(v.string(), '')
const figure = v.fallback(
  v.custom<string | number>((given) => typeof given === 'string' || typeof given === 'number'),
  '',
)
const isText = (given: unknown) => typeof given === 'string'
const pour = v.object({ part: v.number(), g: v.nullable(v.number()), at: v.number() })
const formSchema = v.object({
  sheet: text,
  job: text,
  colour: text,
  activator: text,
  reducer: text,
  warmestC: figure,
  panels: v.fallback(
    v.custom<'' | string[]>((given) => Array.isArray(given) && given.every(isText)),
    '',
  ),
  areaM2: figure,
  coats: figure,
  dryUmPerCoat: figure,
  solids: figure,
  transfer: figure,
  totalMl: figure,
  /** The share of the whole that is mixed now, where only the first of several cups is. */
  firstMl: figure,
  cupMl: figure,
})
export const draftSchema = v.object({
  ...formSchema.entries,
  /** Nothing was chosen yet: it follows what the open job needs next. */
  isOpen: v.optional(v.boolean(), true),
  step: v.optional(v.picklist(['what', 'amount', 'pour']), 'what'),
  stepG: v.optional(v.number(), 0.1),
  pours: v.optional(v.array(pour), []),
  tares: v.optional(v.array(v.object({ g: v.number(), pours: v.number() })), []),
  lots: v.optional(v.record(v.string(), v.string()), {}),
  /** Names of those that are put in besides. */
  additives: v.optional(v.array(v.string()), []),
})
export type Draft = v.InferOutput<typeof draftSchema>

export const NEW_DRAFT: Draft = v.parse(draftSchema, {})

type Form = v.InferOutput<typeof formSchema>

const OF_PANELS = ['areaM2', 'coats'] as const
const OF_SHEET = [
  'activator',
  'reducer',
  'dryUmPerCoat',
  'solids',
  'totalMl',
  'lots',
  'additives',
] as const
/** What is chosen and typed for one product, job or choice of panels does not hold for another. */
const HOLDS_FOR: Partial<Record<keyof Form, readonly (keyof Draft)[]>> = {
  sheet: [...OF_SHEET, 'panels', ...OF_PANELS],
  job: ['colour', 'panels', ...OF_PANELS],
  panels: OF_PANELS,
}

/** What the form shows of a draft: a job, a color and panels as they are now. */
export const shownOf = (draft: Draft, it: Filled): Form => ({
  ...v.parse(formSchema, draft),
  sheet: it.sheet.sheet,
  job: it.job,
  colour: it.colour,
  panels: draft.panels === '' ? '' : [...it.chosen],
  totalMl: draft.firstMl === '' ? draft.totalMl : draft.firstMl,
})

/** A draft after its form was changed, from what it showed. */
export function afterChange(draft: Draft, shown: Form, to: unknown): Draft {
  const form = v.parse(formSchema, to)
  const names = Object.keys(form) as (keyof Form)[]
  const changed = names.filter((name) => form[name] !== shown[name])
  const gone = changed.flatMap((name) => HOLDS_FOR[name] ?? [])
  // With another amount the first cup is a different one.
  const first = changed.some((name) => name !== 'cupMl') ? { firstMl: '' } : {}
  const own = Object.fromEntries(changed.map((name) => [name, form[name]]))
  const fresh = Object.fromEntries(gone.map((name) => [name, NEW_DRAFT[name]]))
  return { ...draft, isOpen: false, ...first, ...own, ...fresh }
}

const numberIn = (given: string | number): number | null =>
  typeof given === 'number' ? given : null

const USUAL_ML = 300
/** Without a reading or a typed figure: the temperature of most sheets' figures. */
const USUAL_C = 20

export type Filled = {
  readonly sheet: Sheet
  readonly jobs: readonly { readonly id: string; readonly title: string }[]
  readonly job: string
  readonly colours: readonly JobColour[]
  readonly colour: string
  readonly air: AirReading | null
  readonly isAirOld: boolean
  readonly warmestC: number
  /** The air that the pot life is calculated in: the warmer of now and the warmest hour. */
  readonly potC: number
  readonly activator: OptionChoice
  readonly reducer: OptionChoice
  readonly additives: readonly string[]
  readonly panels: readonly PanelChoice[]
  readonly chosen: readonly string[]
  readonly areaM2: number | null
  readonly coats: number
  readonly dryUmPerCoat: number | null
  readonly solids: number | null
  readonly transfer: number
  /** As calculated from the panels; null where something for it is not known. */
  readonly neededMl: number | null
  readonly life: Life
  /** For all coats, in however many cups. */
  readonly wholeMl: number
  readonly mix: Mix
}

/** The air at the bench; of a shop that measures where it sprays alone, the air there. */
function airAt(state: State, now: number): AirReading | null {
  const last = (zone: string) => lastBefore(readingsOf(state, zone), now)
  return last(BENCH) ?? last(defaultZone(state)) ?? null
}

function jobsOf(state: State): Filled['jobs'] {
  return Object.entries(state.things.job)
    .filter(([, t]) => t.value === 'open' || t.value === 'paused')
    .map(([id, t]) => ({ id, title: t.context.title }))
}

/** The area of the panels that have one; null when none has. */
function areaOf(panels: readonly PanelChoice[], chosen: readonly string[]): number | null {
  const areas = panels.filter((p) => chosen.includes(p.id)).flatMap((p) => p.areaM2 ?? [])
  return areas.length === 0 ? null : areas.reduce((a, b) => a + b, 0)
}

/** A cup that is being poured keeps to the edition that it was begun by, also where it is replaced or retired. */
function sheetOf(state: State, draft: Draft, sheets: readonly [Sheet, ...Sheet[]]): Sheet {
  const [begun] = draft.pours
  const poured = begun && sheetAt(state, draft.sheet, begun.at)?.sheet
  return poured ?? sheets.find((s) => s.sheet === draft.sheet) ?? sheets[0]
}

/**
 * What the first pour fixes: from then on no new reading, coat or sheet proposes anything else,
 * because what is in the cup cannot change.
 */
export const settled = (it: Filled): Partial<Draft> => ({
  sheet: it.sheet.sheet,
  job: it.job,
  colour: it.colour,
  activator: shownOption(it.activator),
  reducer: shownOption(it.reducer),
  totalMl: it.wholeMl,
})

const COLOURED: readonly Sheet['stage'][] = ['base', 'midcoat', 'single-stage']

/**
 * A draft with everything that it left open filled in.
 * @param sheets the shop's current ones, at least one
 * @param now UTC ms
 */
export function filled(
  state: State,
  draft: Draft,
  sheets: readonly [Sheet, ...Sheet[]],
  now: number,
): Filled {
  const sheet = sheetOf(state, draft, sheets)
  const jobs = jobsOf(state)
  const job = jobs.some((j) => j.id === draft.job) ? draft.job : ''
  const colours = state.things.job[job]?.context.colours ?? []
  // A job with one color means that one, for products that have a color.
  const only = COLOURED.includes(sheet.stage) && colours.length === 1 ? colours[0]?.key : undefined
  const colour = colours.some((c) => c.key === draft.colour) ? draft.colour : (only ?? '')
  const air = airAt(state, now)
  const typedC = numberIn(draft.warmestC)
  const nowC = air?.airC ?? typedC ?? USUAL_C
  const warmestC = typedC ?? nowC
  const isPoured = draft.pours.length > 0
  const activator = choiceOf(sheet.activators, draft.activator, isPoured, nowC, warmestC)
  const reducer = choiceOf(sheet.reducers, draft.reducer, isPoured, nowC, warmestC)
  const known = (sheet.additives ?? []).map(({ name }) => name)
  const additives = draft.additives.filter((name) => known.includes(name))
  const panels = job === '' ? [] : panelsFor(state, job, sheet, colour)
  const wished = draft.panels === '' ? ownOf(job, panels) : draft.panels
  const chosen = wished.filter((id) => panels.some((p) => p.id === id))
  const left = panels.filter((p) => chosen.includes(p.id)).map((p) => p.coatsLeft)
  const need = {
    areaM2: numberIn(draft.areaM2) ?? areaOf(panels, chosen),
    coats: numberIn(draft.coats) ?? (left.length > 0 ? Math.max(...left) : sheet.coats.planned),
    dryUmPerCoat: numberIn(draft.dryUmPerCoat) ?? sheet.dryUmPerCoat ?? null,
    solids: numberIn(draft.solids) ?? sheet.solids ?? null,
    transfer: numberIn(draft.transfer) ?? TRANSFER,
  }
  const needed = neededMl(need)
  const wholeMl = numberIn(draft.totalMl) ?? needed ?? USUAL_ML
  const potC = Math.max(warmestC, nowC)
  const { limits } = settingsOf(state)
  return {
    sheet,
    jobs,
    job,
    colours,
    colour,
    air,
    isAirOld: air !== null && now - air.at >= STALE_MS,
    warmestC,
    potC,
    activator,
    reducer,
    additives,
    panels,
    chosen,
    ...need,
    neededMl: needed,
    life: lifeOf({
      sheet,
      activator: activator.picked,
      reducer: reducer.picked,
      additives,
      coats: need.coats,
      panels: Math.max(1, chosen.length),
      areaM2: need.areaM2,
      sprayMinPerM2: limits?.sprayMinPerM2 ?? SPRAY_MIN_PER_M2,
      air,
      warmestC: potC,
    }),
    wholeMl,
    mix: {
      sheet,
      totalMl: numberIn(draft.firstMl) ?? wholeMl,
      stepG: draft.stepG,
      cupMl: numberIn(draft.cupMl),
    },
  }
}

/** The name that a component goes by here: the activator or reducer that was chosen, where it is that. */
export function partName(filledDraft: Filled, part: number): string {
  const component = filledDraft.sheet.components[part]
  const { activator, reducer } = filledDraft
  if (component?.role === 'activator' && activator.picked !== '')
    return `${component.name} (${activator.picked})`
  if (component?.role === 'reducer' && reducer.picked !== '')
    return `${component.name} (${reducer.picked})`
  return component?.name ?? ''
}

/** The lots that were typed, by component. */
export function lotsOf(
  sheet: Sheet,
  lots: Draft['lots'],
): { readonly name: string; readonly lot: string }[] {
  return sheet.components.flatMap(({ name }) => {
    const lot = lots[name]?.trim() ?? ''
    return lot === '' ? [] : [{ name, lot }]
  })
}
