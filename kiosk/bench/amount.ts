import type { AirReading } from '../../machines/clock/air.ts'
import { minutesAt, waterborneTableMinutes } from '../../machines/clock/interval.ts'
import { paintOf } from '../../machines/cup/colours.ts'
import { isSameCode } from '../../machines/cup/paint.ts'
import { coatsOn } from '../../machines/panel/context.ts'
import { isInWork, routeState } from '../../machines/panel/where.ts'
import { chosenOptions, opensOf } from '../../machines/sheet/intervals.ts'
import { potLives } from '../../machines/sheet/potLife.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import type { State } from '../../machines/state.ts'
import { cupPlan } from '../../machines/trade/cupPlan.ts'
import { quantity } from '../../machines/trade/film.ts'

/** How much to mix, and whether the pot life lasts for it. Pure. */

const ROUND_UP_ML = 10
const MINUTE_MS = 60_000

export type PanelChoice = {
  readonly id: string
  readonly job: string
  readonly name: string
  readonly areaM2: number | null
  /** Coats of this product that are planned and not on. */
  readonly coatsLeft: number
}

/**
 * The panels whose route still wants this product, in this color where both name one: those of the job,
 * and after them those of other open jobs that have a color of the same code and variant.
 */
export function panelsFor(state: State, job: string, sheet: Sheet, colour: string): PanelChoice[] {
  const own = choicesOf(state, job, sheet, colour)
  const paint = paintOf(state, job, colour)
  if (colour === '') return own
  const others = Object.entries(state.things.job).filter(
    ([id, { value }]) => id !== job && value === 'open',
  )
  return [
    ...own,
    ...others.flatMap(([id, { context }]) =>
      context.colours
        .filter(({ key }) => isSameCode(paint, paintOf(state, id, key)))
        .flatMap(({ key }) => choicesOf(state, id, sheet, key, true))
        .map((panel) => ({ ...panel, name: `${panel.name} (${context.title})` })),
    ),
  ]
}

/** @param named whether a step has to name the color itself */
function choicesOf(
  state: State,
  job: string,
  sheet: Sheet,
  colour: string,
  named = false,
): PanelChoice[] {
  return Object.entries(state.things.panel).flatMap(([id, thing]) => {
    const panel = thing.context
    if (panel.job !== job || !isInWork(routeState(thing.value))) return []
    const step = panel.route.findIndex(
      (s, i) =>
        panel.status[i] === 'open' &&
        s.sheet === sheet.sheet &&
        s.stage === sheet.stage &&
        (colour === '' || (s.colour === undefined && !named) || s.colour === colour),
    )
    if (step < 0) return []
    const planned = panel.route[step]?.coats?.planned ?? sheet.coats.planned
    const coatsLeft = Math.max(1, planned - coatsOn(panel, step))
    return [{ id, job, name: panel.name, areaM2: panel.areaM2, coatsLeft }]
  })
}

type Chosen = {
  readonly job: string
  readonly panels: readonly PanelChoice[]
  readonly chosen: readonly string[]
}

/** Of some panels those of a job. */
export const ownOf = (job: string, panels: readonly PanelChoice[]): string[] =>
  panels.filter((p) => p.job === job).map((p) => p.id)

/** The other jobs whose panels a cup is mixed for as well. */
export const alsoFor = ({ job, panels, chosen }: Chosen): string[] => [
  ...new Set(panels.filter((p) => p.job !== job && chosen.includes(p.id)).map((p) => p.job)),
]

type Need = {
  readonly areaM2: number | null
  readonly coats: number
  readonly dryUmPerCoat: number | null
  readonly solids: number | null
  readonly transfer: number
}

/** mL for it, rounded up; null where something is not known or out of range. */
export function neededMl(need: Need): number | null {
  const answer = quantity.answer(need)
  return answer.ok ? Math.ceil(answer.value.volumeMl / ROUND_UP_ML) * ROUND_UP_ML : null
}

export type Life =
  | { readonly kind: 'endless' | 'tooLong' | 'noFlash' | 'unknown' }
  | {
      readonly kind: 'enough' | 'several'
      readonly lastCoatAtMin: number
      readonly livesMin: number
      readonly cups: readonly {
        readonly mixAtMin: number
        readonly coats: number
        readonly share: number
      }[]
    }

type LifeInput = {
  readonly sheet: Sheet
  readonly activator: string
  readonly reducer: string
  readonly additives: readonly string[]
  readonly coats: number
  readonly panels: number
  readonly areaM2: number | null
  readonly sprayMinPerM2: number
  /** The air now, in which it flashes; null where nobody measured. */
  readonly air: AirReading | null
  /** The warmest air expected, in which the pot life runs: both go towards caution. */
  readonly warmestC: number
}

const LEAST_SPRAY_MIN = 1

/** Whether one cup lasts for its coats. */
export function lifeOf(input: LifeInput): Life {
  const { sheet, activator, reducer, additives, warmestC } = input
  const options = chosenOptions(sheet, activator, reducer, additives)
  const pots = potLives(sheet, options)
  if (pots.length === 0) return { kind: 'endless' }
  const flashMin = flashNow(input)
  if (!Number.isFinite(flashMin)) return { kind: 'noFlash' }
  // The shortest of the pot lives, as one figure at the temperature that is asked for.
  const potMin = Math.min(...pots.map((p) => minutesAt(p.kind, p.points, warmestC)))
  const at = (minutes: number) => [{ atC: warmestC, minutes }]
  const perPanel = ((input.areaM2 ?? 0) / Math.max(1, input.panels)) * input.sprayMinPerM2
  const sprayMinPerPanel = Math.max(LEAST_SPRAY_MIN, perPanel)
  if (sprayMinPerPanel > potMin) return { kind: 'tooLong' }
  const plan = cupPlan.answer({
    coats: input.coats,
    sprayMinPerPanel,
    panels: Math.max(1, input.panels),
    flash: at(flashMin),
    potLife: at(potMin),
    airC: warmestC,
  })
  if (!plan.ok) return { kind: 'unknown' }
  const { enough, lastCoatAtMin, cups } = plan.value
  return { kind: enough ? 'enough' : 'several', lastCoatAtMin, livesMin: potMin, cups }
}

/** The flash between coats in the air of now, min; Infinity where it does not flash. */
function flashNow({ sheet, activator, reducer, additives, air, warmestC }: LifeInput): number {
  const options = chosenOptions(sheet, activator, reducer, additives)
  const airC = air?.airC ?? warmestC
  return Math.max(
    ...opensOf(sheet, 0, options).flashBetween.map(({ kind, points, waterborneRhRef }) => {
      return waterborneRhRef !== undefined && air?.rh !== undefined
        ? waterborneTableMinutes(points, waterborneRhRef, airC, { airC, rh: air.rh })
        : minutesAt(kind, points, airC)
    }),
  )
}

export const minutesMs = (minutes: number): number => minutes * MINUTE_MS
