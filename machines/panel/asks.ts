import { airOf } from '../climate/fold.ts'
import { isBakedAt } from '../climate/heats.ts'
import { rangeIn } from '../climate/range.ts'
import { lastBefore, STALE_MS } from '../clock/line.ts'
import { liveIn } from '../live.ts'
import { MINUTE_MS } from '../refusals.ts'
import { dayIn } from '../shop/hours.ts'
import { settingsAt } from '../shop/settings.ts'
import type { State } from '../state.ts'
import { type PanelContext, zoneOf } from './context.ts'
import { asksSurface } from './surface.ts'

/**
 * What the sheet of a start asks for, because nobody measured it. A start that is pressed all the
 * same is the answer: its entry keeps what was asked, so that it is not asked again.
 */

/** `air`: a reading of the zone. `dayRange`: between what its air stays today. `surface`: how warm the part is. */
export type Ask = { readonly what: 'air' | 'dayRange' | 'surface'; readonly zone: string }

/** A zone that was read within so long has an instrument. */
const HAS_INSTRUMENT_MS = 7 * 24 * 60 * MINUTE_MS

/** Whether a start in the zone had asked the same on the same day of the shop. */
function wasAskedToday(state: State, zone: string, what: Ask['what'], at: number): boolean {
  const dayOf = dayIn(settingsAt(state, at).timeZone)
  const today = dayOf(at)
  return Object.values(state.things.panel).some(({ entries }) =>
    liveIn(entries).some(
      (e) =>
        e.type === 'CoatStarted' &&
        e.zone === zone &&
        e.at <= at &&
        Array.isArray(e.data.asked) &&
        e.data.asked.includes(what) &&
        dayOf(e.at) === today,
    ),
  )
}

/**
 * What is asked of a zone's air: a reading, where there is an instrument and its last word is old; and
 * once a day the range in which it stays, for the clocks that run blind.
 */
export function zoneAsks(state: State, zone: string, at: number): Ask[] {
  const { readings } = airOf(state, zone)
  const last = lastBefore(readings, at)
  const ageMs = last ? at - last.at : Number.POSITIVE_INFINITY
  // What was read during a bake lets the clocks see, and says nothing of the air of the next coat.
  const isOfBake = last !== undefined && isBakedAt(state, zone, last.at)
  if (ageMs < STALE_MS && !isOfBake) return []
  const isBlind = ageMs >= STALE_MS && rangeIn(state, zone, at) === undefined
  const asksRange = isBlind && !wasAskedToday(state, zone, 'dayRange', at)
  return [
    ...(ageMs < HAS_INSTRUMENT_MS ? [{ what: 'air' as const, zone }] : []),
    ...(asksRange ? [{ what: 'dayRange' as const, zone }] : []),
  ]
}

/** What the sheet of a start on some panels asks, each once. @param at UTC ms */
export function asksOf(state: State, panels: readonly PanelContext[], at: number): Ask[] {
  const zones = [...new Set(panels.filter(({ stays }) => stays.length > 0).map(zoneOf))]
  return zones.flatMap((zone) => [
    ...zoneAsks(state, zone, at),
    ...(panels.some((panel) => zoneOf(panel) === zone && asksSurface(state, panel, at))
      ? [{ what: 'surface' as const, zone }]
      : []),
  ])
}
