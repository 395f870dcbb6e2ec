import type { AirReading, Stay } from '../../machines/clock/air.ts'
import { STALE_MS } from '../../machines/clock/line.ts'
import { liveIn } from '../../machines/live.ts'
import { climateOf, SETTLED_MS } from '../../machines/panel/climate.ts'
import type { PanelContext } from '../../machines/panel/context.ts'
import type { State } from '../../machines/state.ts'
import type { Thing } from '../../machines/things.ts'
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

/**
 * Whether the last coat went onto a panel of which nobody measured how warm it is, in air that was read:
 * until it is measured, moved, or has stood there long enough.
 */
export function isPartCold(
  state: State,
  { context: panel, entries }: Thing<'panel'>,
  moment: Moment,
): boolean {
  const last = liveIn(entries).findLast(({ type }) => type === 'CoatStarted')
  const cameMs = panel.stays.at(-1)?.fromMs ?? 0
  if (!last?.notJudged?.includes('dewPoint') || cameMs > last.at) return false
  const { airC } = last.data.judged as { airC?: number }
  const isRead = climateOf(state, panel).parts.some(({ at }) => at >= last.at)
  return airC !== undefined && !isRead && !moment.isPast(cameMs + SETTLED_MS)
}
