import { heatsOf } from '../climate/heats.ts'
import { coolMinOf } from '../climate/neighbors.ts'
import type { Deciding } from '../deciding.ts'
import { MINUTE_MS, type Problem } from '../refusals.ts'
import type { State } from '../state.ts'
import { type PanelContext, zoneAt } from './context.ts'
import type { FoundPanel } from './find.ts'

/** Panels once their heat is off: how long they stay hot. */

/** A part that is this cool may be worked on. */
const COOL_C = 35

/** What the last bake of the shop was set to, °C; null where none was. */
export function lastSetC({ things }: State): number | null {
  const set = Object.values(things.panel)
    .flatMap(({ context }) => heatsOf(context))
    .filter(({ setC }) => setC !== undefined)
  const last = set.reduce<(typeof set)[number] | null>(
    (latest, heat) => (latest && latest.fromMs >= heat.fromMs ? latest : heat),
    null,
  )
  return last?.setC ?? null
}

/**
 * When a panel is cool again after its last heat, UTC ms: at its first measurement of 35 °C or less, or
 * so long after the heat, or after a measurement that was warmer.
 * @returns null where it was in no heat, or is in it now
 */
export function coolFrom(state: State, panel: PanelContext): number | null {
  const heat = panel.heats?.at(-1)
  if (!heat || (panel.cure && panel.cure.mode !== 'air')) return null
  const since = panel.parts.filter(({ at }) => at >= heat.toMs)
  const firstCool = since.findIndex(({ partC }) => partC <= COOL_C)
  const warm = firstCool === -1 ? since : since.slice(0, firstCool)
  const warmAt = warm.at(-1)?.at ?? heat.toMs
  const byTimeMs = warmAt + coolMinOf(state, zoneAt(panel, heat.toMs)) * MINUTE_MS
  return Math.min(byTimeMs, since[firstCool]?.at ?? Number.POSITIVE_INFINITY)
}

/** Paint that goes on a hot panel boils and shrinks. */
export function hotProblems(d: Deciding, p: FoundPanel): Problem[] {
  const limit = coolFrom(d.state, p.panel)
  if (limit === null || d.at >= limit) return []
  const about = { panel: p.id, about: p.panel.name }
  return [{ code: 'partHot', limit, value: d.at, clearsAt: limit, ...about }]
}
