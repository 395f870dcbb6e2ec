import type { State } from '../../machines/state.ts'
import { type PercentOf, parseRatio, ratioParts } from '../../machines/trade/ratio.ts'
import { groupIn, pointsIn, rowsIn } from '../forms/draft.ts'
import type { Draft, Fields, Spec } from '../forms/spec.ts'
import { dusted } from '../units/measure.ts'
import { SHEET } from './forms.ts'

/** The form of a sheet in steps, and what it fills in by itself: no figure but the temperature of a time. Pure. */

export const STEPS = ['product', 'times', 'heat', 'coats', 'check'] as const
export type Step = (typeof STEPS)[number]

/** Every field of a sheet in the step in which a maker's paper is read. */
const FIELDS_OF: Readonly<Record<Step, readonly string[]>> = {
  product: [
    ...[
      'name',
      'stage',
      'medium',
      'by',
      'components',
      'edition',
      'sheet',
      'ratioTolerance',
      'finish',
      'vocCategory',
    ],
  ],
  times: [
    ...['potLife', 'flashBetween', 'flashBeforeNext', 'recoatWithin', 'afterWindow'],
    ...['induction', 'keepDays', 'keepDaysReduced', 'flashBy', 'floorMin', 'matteOnly', 'rhRef'],
    ...['forcedDry', 'flashByKind', 'recoatAgainAfter', 'clearWithinFromFirstCoat', 'over'],
    ...['activators', 'reducers', 'additives', 'heavyCoat'],
  ],
  heat: ['cure', 'ready', 'recoatAfterBake'],
  coats: [
    ...['coats', 'hazards', 'limits', 'gun', 'dryUmPerCoat', 'maxFilmUm', 'solids', 'viscosity'],
    ...['strainUm', 'grit', 'prepFor'],
  ],
  check: [],
}

/** The fields that a step draws. The parts of the mix have a place of their own. */
export const fieldsOfStep = (step: Step): Fields =>
  Object.fromEntries(
    Object.entries(SHEET).filter(
      ([name]) => name !== 'components' && FIELDS_OF[step].includes(name),
    ),
  )

export const stepOfField = (path = ''): Step =>
  STEPS.find((step) => FIELDS_OF[step].includes(path.split('.')[0] ?? '')) ?? 'product'

type Path = readonly (string | number)[]

/** The paths of the temperatures that stand for a time's only or first figure. */
export function firstTemperatures(spec: Spec, draft: Draft, path: Path = []): string[] {
  switch (spec.kind) {
    case 'group':
      return Object.entries(spec.fields).flatMap(([key, field]) =>
        firstTemperatures(field.spec, groupIn(draft)[key] ?? '', [...path, key]),
      )
    case 'list':
      return rowsIn(draft).flatMap((row, i) => firstTemperatures(spec.item, row, [...path, i]))
    case 'points':
      return pointsIn(draft).points.length > 0 ? [[...path, 0, 'atC'].join('.')] : []
    case 'maybe':
      return firstTemperatures(spec.of, draft, path)
    default:
      return []
  }
}

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

/** A value of the form, its times' first figures at the usual temperature where none is given. */
export function atUsual(spec: Spec, value: unknown, atC: number): unknown {
  switch (spec.kind) {
    case 'group':
      return isObject(value)
        ? Object.fromEntries(
            Object.entries(value).map(([key, one]) => {
              const own = spec.fields[key]
              return [key, own ? atUsual(own.spec, one, atC) : one]
            }),
          )
        : value
    case 'list':
      return Array.isArray(value) ? value.map((one) => atUsual(spec.item, one, atC)) : value
    case 'points':
      return Array.isArray(value)
        ? value.map((one, i) => (i === 0 && isObject(one) ? { atC, ...one } : one))
        : value
    case 'maybe':
      return atUsual(spec.of, value, atC)
    default:
      return value
  }
}

/** The temperature that most makers print their times for. */
const PRINTED_C = 20

/** The temperature of the times on the sheet that the shop saved last: its makers print for that. */
export function usualC(state: State): number {
  const own = Object.values(state.things.sheet)
    .flatMap(({ context }) => context.versions.at(-1) ?? [])
    .filter(({ sheet }) => !sheet.sample)
    .sort((a, b) => b.at - a.at)
  return own[0]?.sheet.flashBeforeNext[0]?.atC ?? PRINTED_C
}

/** A sheet says one number of coats, or a range. @returns what is not given, as it follows from the rest */
export function coatsFrom(draft: Draft): Readonly<Record<'least' | 'planned' | 'most', Draft>> {
  const { least = '', planned = '', most = '' } = groupIn(draft)
  const given = [planned, least, most].find((one) => one !== '') ?? ''
  return {
    least: least === '' ? given : least,
    planned: planned === '' ? given : planned,
    most: most === '' ? given : most,
  }
}

/** A ratio as a field shows it, of parts as they are stored. */
export const ratioText = (draft: Draft): string =>
  rowsIn(draft)
    .map((row) => String(groupIn(row).parts ?? ''))
    .join(':')

export const ROLES = ['base', 'activator', 'reducer', 'tint'] as const

/**
 * The parts of a mix from a ratio as the trade says it, "4:1+10%": the first is the base, the second the
 * activator, what is added in per cent the reducer.
 * @param had the parts so far: what was typed of them stays
 * @param nameOf what a part is called until somebody types another name
 * @returns null where it is not a ratio
 */
export function componentsFrom(
  text: string,
  of: PercentOf,
  had: readonly Draft[],
  nameOf: (role: string) => string,
): Draft[] | null {
  const ratio = parseRatio(text.replaceAll(',', '.'))
  if (ratio === null) return null
  return ratioParts(ratio, of).map((parts, i) => {
    const isPercent = i >= ratio.parts.length
    const role = i === 0 ? 'base' : i === 1 && !isPercent ? 'activator' : 'reducer'
    const typed = Object.entries(groupIn(had[i] ?? '')).filter(([, one]) => one !== '')
    return { name: nameOf(role), role, ...Object.fromEntries(typed), parts: dusted(parts) }
  })
}
