import { heatsIn, heatsOf } from '../climate/heats.ts'
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

/** What stood beside a bake for less than this is not warm yet. Common practice, no source. */
const BESIDE_MS = 5 * MINUTE_MS

/** When heat left a panel; without an end it is in it. */
type Left = { readonly toMs: number; readonly zone: string }

/** A bake warms all that stands in its zone: when it ended around a panel, or the panel was moved out of it. */
function bakesAround(state: State, { stays }: PanelContext, at: number): Left[] {
  return stays.flatMap(({ fromMs, zone }, i) => {
    const leftMs = stays[i + 1]?.fromMs ?? Number.POSITIVE_INFINITY
    return heatsIn(state, zone).flatMap(({ mode, fromMs: begunMs, toMs }) => {
      const outMs = Math.min(toMs ?? leftMs, leftMs)
      const isWarm = outMs - Math.max(begunMs, fromMs) >= BESIDE_MS
      return mode === 'bake' && begunMs <= at && isWarm ? [{ toMs: outMs, zone }] : []
    })
  })
}

/** The last heat that a panel stood in, its own or of what was baked beside it. */
function lastHeat(state: State, panel: PanelContext, at: number): Left | null {
  const own = panel.heats?.at(-1)
  const all = [
    ...(own ? [{ toMs: own.toMs, zone: zoneAt(panel, own.toMs) }] : []),
    ...bakesAround(state, panel, at),
  ]
  return all.reduce<Left | null>((last, one) => (last && last.toMs >= one.toMs ? last : one), null)
}

/**
 * When a panel is cool again after the last heat that it stood in, UTC ms: at its first measurement of
 * 35 °C or less, or so long after the heat, or after a measurement that was warmer.
 * @param at UTC ms: a bake beside it that began later says nothing
 * @returns null where it was in no heat, or is in it now
 */
export function coolFrom(
  state: State,
  panel: PanelContext,
  at = Number.POSITIVE_INFINITY,
): number | null {
  const heat = lastHeat(state, panel, at)
  if (!heat || heat.toMs === Number.POSITIVE_INFINITY) return null
  if (panel.cure && panel.cure.mode !== 'air') return null
  const since = panel.parts.filter(({ at }) => at >= heat.toMs)
  const firstCool = since.findIndex(({ partC }) => partC <= COOL_C)
  const warm = firstCool === -1 ? since : since.slice(0, firstCool)
  const warmAt = warm.at(-1)?.at ?? heat.toMs
  const byTimeMs = warmAt + coolMinOf(state, heat.zone) * MINUTE_MS
  return Math.min(byTimeMs, since[firstCool]?.at ?? Number.POSITIVE_INFINITY)
}

/** Paint that goes on a hot panel boils and shrinks. */
export function hotProblems(d: Deciding, p: FoundPanel): Problem[] {
  // A bake that ended later was still on then, though it is known by now when that was.
  if ((lastHeat(d.state, p.panel, d.at)?.toMs ?? 0) > d.at) return []
  const limit = coolFrom(d.state, p.panel, d.at)
  if (limit === null || d.at >= limit) return []
  const about = { panel: p.id, about: p.panel.name }
  return [{ code: 'partHot', limit, value: d.at, clearsAt: limit, ...about }]
}
