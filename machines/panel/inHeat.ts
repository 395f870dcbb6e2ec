import { tracksOf } from '../cup/ends.ts'
import type { PotClock } from '../cup/machine.ts'
import type { State } from '../state.ts'
import { zoneOf } from './context.ts'
import { routeState } from './where.ts'

/** What stands in the heat of a zone with the panels that are baked: vehicles, cups and guns. */

export type VehicleLimit = {
  readonly job: string
  readonly title: string
  /** °C; null where no limit is known, undefined where nobody was asked. */
  readonly limitC: number | null | undefined
}

/** The jobs that have a panel in a zone, passed or not, and how warm their vehicles may become. */
export function limitsIn(state: State, zone: string): readonly VehicleLimit[] {
  const jobs = Object.values(state.things.panel).flatMap(({ value, context }) =>
    zoneOf(context) === zone && !['unknown', 'removed'].includes(routeState(value))
      ? [context.job]
      : [],
  )
  return [...new Set(jobs)].flatMap((id) => {
    const job = state.things.job[id]
    if (!job || job.value === 'unknown' || job.value === 'closed') return []
    return [{ job: id, title: job.context.title, limitC: job.context.heatLimitC }]
  })
}

/** The jobs in a zone whose limit nobody has entered yet. "No limit known" is an answer. */
export const unaskedIn = (state: State, zone: string): readonly VehicleLimit[] =>
  limitsIn(state, zone).filter(({ limitC }) => limitC === undefined)

/** The zone that a clock's material is in by now. */
const zoneOfClock = (clock: PotClock): string => {
  const { own, use } = tracksOf(clock)
  return (use.at(-1) ?? own.at(-1))?.zone ?? ''
}

/** The names of the cups and guns with activated material that stand in a zone: their time runs faster in heat. */
export function activatedIn(state: State, zone: string): readonly string[] {
  const cups = Object.entries(state.things.cup).flatMap(([id, { value, context }]) =>
    value !== 'emptied' && context.clocks.some((clock) => zoneOfClock(clock) === zone)
      ? [`${context.name} ${id}`]
      : [],
  )
  const guns = Object.entries(state.things.gun).flatMap(([id, { context }]) =>
    context.loads.some(({ clocks }) => clocks.some((clock) => zoneOfClock(clock) === zone))
      ? [context.spec?.name ?? id]
      : [],
  )
  return [...cups, ...guns]
}
