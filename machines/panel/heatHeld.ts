import { heatsAround, type ZoneHeat } from '../climate/heats.ts'
import { tracksOf } from '../cup/ends.ts'
import type { PotClock } from '../cup/machine.ts'
import type { State } from '../state.ts'
import type { Thing } from '../things.ts'
import { type PanelContext, zoneAt } from './context.ts'

/**
 * A bake runs down what stood beside it: cups, guns, and the windows of other panels. As long as one of
 * these is open work, the panel that was baked is held for its heat.
 */

/** What is open, whatever else is evicted at the same time: so that every kiosk and the server hold the same. */
export type Open = {
  readonly isCupOpen: (cup: Thing<'cup'>) => boolean
  readonly isJobOpen: (job: string) => boolean
}

const isIn = (zone: string, toMs: number) => (clock: PotClock) => {
  const { own, use } = tracksOf(clock)
  return clock.startMs <= toMs && [...own, ...use].some((stay) => stay.zone === zone)
}

function isRestedOn(state: State, zone: string, heat: ZoneHeat, open: Open): boolean {
  const toMs = heat.toMs ?? Number.POSITIVE_INFINITY
  const runs = isIn(zone, toMs)
  const { cup, gun, panel } = state.things
  return (
    Object.values(cup).some((one) => one.context.clocks.some(runs) && open.isCupOpen(one)) ||
    Object.values(gun).some(({ context }) =>
      context.loads.some((load) => load.clocks.some(runs)),
    ) ||
    Object.values(panel).some(
      ({ context }) =>
        context.stays.some((stay) => stay.zone === zone) &&
        context.coats.some(({ finishedAt }) => finishedAt <= toMs) &&
        open.isJobOpen(context.job),
    )
  )
}

/** Whether what is open rests on the heat of a panel whose own job is closed. */
export const isHeldForHeat = (state: State, panel: PanelContext, open: Open): boolean =>
  heatsAround(state, panel).some(
    (heat) => heat.mode === 'bake' && isRestedOn(state, zoneAt(panel, heat.fromMs), heat, open),
  )
