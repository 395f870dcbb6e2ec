import type { ThingRef } from './catalog.ts'
import type { Climate } from './clock/air.ts'
import { endsAt, type Interval } from './clock/line.ts'
import { potClimate, tracksOf } from './cup/ends.ts'
import type { PotClock } from './cup/machine.ts'
import { climateOf } from './panel/climate.ts'
import type { PanelContext } from './panel/context.ts'
import { cureEndsAt } from './panel/cureClock.ts'
import { isJobClosed } from './panel/find.ts'
import { LATEST } from './panel/gate.ts'
import { firstCoats, openLayers, withinFirst, withoutPart } from './panel/layers.ts'
import { routeState } from './panel/where.ts'
import { MINUTE_MS } from './refusals.ts'
import { sheetAt } from './sheet/fold.ts'
import { HEATS, heatWaits } from './sheet/heatFlash.ts'
import { blindOf, curesOf, intervalsOf, type Opens, overFigures } from './sheet/intervals.ts'
import { FOREVER_MS } from './spans.ts'
import { contextOf, type State, thingOf } from './state.ts'

/** The clocks that stand on open work: from when, until when at the latest, and where. */

const DAY_MS = 24 * 60 * MINUTE_MS
/** Of the air that one clock rests on at most so much is held. */
export const CLIMATE_MOST_MS = 14 * DAY_MS
/** No bake lasts longer; one that nobody measures or ends does not hold the air of weeks. */
const BAKE_MOST_MS = 2 * DAY_MS

/** A clock, or several that began together: from when, until when each of them at the latest, in which zones. */
export type Standing = {
  readonly startMs: number
  readonly endsMs: () => readonly number[]
  readonly stays: Stays
}
export type Stays = readonly { readonly fromMs: number; readonly zone: string }[]

/** When a clock is over for certain: also by the longest of its sheet's figures. */
function overAt(interval: Interval, startMs: number, climate: Climate): number {
  const longest = Math.max(...interval.points.map((p) => p.minutes))
  return Math.max(endsAt(interval, startMs, climate) ?? FOREVER_MS, startMs + longest * MINUTE_MS)
}

/** A wait before heat that nobody has typed yet: once it is, it counts from the coat. */
const NOT_KNOWN: Interval = {
  kind: 'notBefore',
  points: [{ atC: 20, minutes: CLIMATE_MOST_MS / MINUTE_MS }],
}

/**
 * Window and flashes of a coat, also before heat, with what the products of the steps to come say of
 * going over it.
 */
function coatIntervals(state: State, panel: PanelContext, opens: Opens): Interval[] {
  const overs = panel.route.map((s) => overFigures(sheetAt(state, s.sheet, LATEST)?.sheet, opens))
  return [
    ...intervalsOf(opens),
    ...HEATS.flatMap((heat) => heatWaits(state, opens, heat) ?? NOT_KNOWN),
    ...overs.flatMap(({ flashBeforeNext, recoatWithin: within }): Interval[] => [
      ...flashBeforeNext,
      ...(within === null || typeof within === 'string'
        ? []
        : [{ kind: 'notAfter' as const, points: within, ...blindOf(opens) }]),
    ]),
  ]
}

/** On these panels nothing is waited for. What is said of one that has passed is judged by its clocks all the same. */
const OVER: readonly string[] = ['unknown', 'passed', 'removed']

function panelClocks(state: State, id: string, isNamed: boolean): Standing[] {
  const thing = thingOf(state, { kind: 'panel', id })
  const where = thing && routeState(thing.value)
  if (!where || (OVER.includes(where) && !(isNamed && where === 'passed'))) return []
  const panel = thing.context
  if (isJobClosed(state, panel.job)) return []
  const { stays, cure } = panel
  // Only a clock whose end is asked for is calculated.
  let climate: Climate | null = null
  const air = () => {
    climate ??= climateOf(state, panel)
    return climate
  }
  const ends = (intervals: readonly Interval[], startMs: number) => [
    startMs,
    ...intervals.map((interval) => overAt(interval, startMs, air())),
  ]
  // Under a part that was broken off the window of the coat before goes on.
  const under = withoutPart(panel)
  const layers = [panel, ...(under ? [under] : [])].flatMap((one) =>
    openLayers(one, panel.route.length),
  )
  const coatClocks = layers.map(({ coat, opens }) => ({
    startMs: coat.finishedAt,
    endsMs: () => ends(coatIntervals(state, panel, opens), coat.finishedAt),
    stays,
  }))
  const firstClocks = firstCoats(panel).map(({ finishedAt, opens }) => ({
    startMs: finishedAt,
    endsMs: () => ends(withinFirst(opens), finishedAt),
    stays,
  }))
  const cureClock = cure && {
    startMs: cure.startedAt,
    endsMs: () => {
      const airs = cure.mode === 'air' ? curesOf(cure.figures).flatMap(({ air }) => air ?? []) : []
      const end = cureEndsAt(state, panel) ?? cure.startedAt + BAKE_MOST_MS
      return [end, ...ends(airs, cure.startedAt)]
    },
    stays,
  }
  return [...coatClocks, ...firstClocks, ...(cureClock ? [cureClock] : [])]
}

const potClocks = (state: State, clocks: readonly PotClock[]): Standing[] =>
  clocks.flatMap((clock) => {
    const { interval, startMs } = clock
    const endsMs = () => [overAt(interval, startMs, potClimate(state, clock))]
    const { own, use } = tracksOf(clock)
    const usedAt = use[0] ? [{ startMs: Math.max(startMs, use[0].fromMs), endsMs, stays: use }] : []
    return [{ startMs, endsMs, stays: own }, ...usedAt]
  })

/** The clocks of a panel, cup or gun. @param isNamed whether a command is about it, and not only what stands is asked for */
export function clocksOf(state: State, { kind, id }: ThingRef, isNamed = false): Standing[] {
  if (kind === 'panel') return panelClocks(state, id, isNamed)
  if (kind === 'gun') {
    const loads = contextOf(state, 'gun', id)?.loads ?? []
    return potClocks(
      state,
      loads.flatMap((load) => load.clocks),
    )
  }
  const cup = kind === 'cup' ? contextOf(state, 'cup', id) : undefined
  if (!cup) return []
  return potClocks(state, [...cup.clocks, ...(cup.induction ? [cup.induction] : [])])
}
