import { type AirReading, STALE_MS, type Stay } from '../../machines/clock/line.ts'
import { climateOf } from '../../machines/panel/climate.ts'
import type { PanelContext } from '../../machines/panel/context.ts'
import type { State } from '../../machines/state.ts'
import type { Moment } from './moment.ts'

/** The zone's last reading that has come, or its first one. */
function airNow(readings: readonly AirReading[], moment: Moment): AirReading | undefined {
  return readings.findLast((reading) => moment.isPast(reading.at)) ?? readings[0]
}

/** Whether no reading speaks for the air that a panel stands in: its clocks keep to the careful end. */
export function isBlindNow(state: State, panel: PanelContext, moment: Moment): boolean {
  const stays: readonly Stay[] = climateOf(state, panel).stays
  const stay = stays.findLast(({ fromMs }) => moment.isPast(fromMs)) ?? stays[0]
  const air = airNow(stay?.readings ?? [], moment)
  if (!air || moment.isPast(air.at + STALE_MS)) return true
  // A first reading that is yet to come holds back for as long as one holds on.
  return !moment.isPast(air.at - STALE_MS + 1)
}
