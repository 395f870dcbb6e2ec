import { liveIn } from '../../machines/live.ts'
import type { Forecast, PlannedAct } from '../../machines/plan/forecastTypes.ts'
import { numberOfDay, startOfDay } from '../../machines/shop/calendar.ts'
import { dayIn } from '../../machines/shop/hours.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import { contextOf, type State, thingOf } from '../../machines/state.ts'

/** The day of each panel as bars: the past as it was, the rest as it is forecast. Pure. */

export type Bar = {
  readonly kind: PlannedAct['kind']
  readonly fromMs: number
  readonly toMs: number
  /** It was, and is no forecast. */
  readonly isPast: boolean
}
export type Lane = {
  readonly panel: string
  readonly job: string
  readonly bars: readonly Bar[]
}
export type Day = {
  readonly fromMs: number
  readonly toMs: number
  /** Full hours to mark. */
  readonly hours: readonly number[]
  readonly lanes: readonly Lane[]
}

const HOUR_MS = 3_600_000
/** What lies further ahead is told in the list: bars would be too short to see. */
const AHEAD_MS = 10 * HOUR_MS
const POINT_MS = 2 * 60_000

/** What was done on a panel since the shop's last midnight. */
function pastOf(state: State, id: string, sinceMs: number, now: number): Bar[] {
  const panel = contextOf(state, 'panel', id)
  if (!panel) return []
  const entries = liveIn(thingOf(state, { kind: 'panel', id })?.entries ?? [])
  const coats = panel.coats.map(({ startedAt: fromMs, finishedAt: toMs }) => ({
    ...{ kind: 'coat' as const, fromMs, toMs },
  }))
  const hands = entries
    .filter(
      ({ type }) => type === 'PrepStepDone' || type === 'PanelAbraded' || type === 'PanelPolished',
    )
    .map(({ at }) => ({ kind: 'hand' as const, fromMs: at - POINT_MS, toMs: at }))
  const starts = entries.filter(({ type }) => type === 'CureStarted')
  const cures = starts.map(({ at }) => ({
    kind: 'cure' as const,
    fromMs: at,
    toMs: entries.find((one) => one.type === 'CureEnded' && one.at >= at)?.at ?? now,
  }))
  return [...coats, ...hands, ...cures]
    .filter(({ toMs }) => toMs > sinceMs)
    .map((bar) => ({ ...bar, fromMs: Math.max(bar.fromMs, sinceMs), isPast: true }))
}

/** @param now UTC ms */
export function dayOf(state: State, { acts }: Forecast, now: number): Day {
  const { timeZone } = settingsOf(state)
  const midnight = startOfDay(numberOfDay(dayIn(timeZone)(now)), timeZone)
  const ids = [
    ...Object.entries(state.things.panel)
      .filter(([, { context }]) => context.coats.some(({ finishedAt }) => finishedAt > midnight))
      .map(([id]) => id),
    ...acts.map(({ panel }) => panel),
  ]
  const lanes = [...new Set(ids)].map((panel): Lane => {
    const ahead = acts
      .filter((act) => act.panel === panel)
      .map(({ kind, fromMs, toMs }) => ({
        kind,
        fromMs: Math.max(fromMs, now),
        toMs,
        isPast: false,
      }))
    const job = contextOf(state, 'panel', panel)?.job ?? ''
    return { panel, job, bars: [...pastOf(state, panel, midnight, now), ...ahead] }
  })
  const all = lanes.flatMap(({ bars }) => bars)
  const first = Math.min(now, ...all.map(({ fromMs }) => fromMs))
  // A film that cures overnight would leave no room for what is done by day.
  const done = all.filter(({ kind }) => kind !== 'cure')
  const last = Math.max(now + HOUR_MS, ...done.map(({ toMs }) => toMs + HOUR_MS / 2))
  const fromMs = Math.floor(first / HOUR_MS) * HOUR_MS
  const toMs = Math.ceil(Math.min(last, now + AHEAD_MS) / HOUR_MS) * HOUR_MS
  const hours = Array.from(
    { length: (toMs - fromMs) / HOUR_MS + 1 },
    (_, i) => fromMs + i * HOUR_MS,
  )
  return { fromMs, toMs, hours, lanes }
}
