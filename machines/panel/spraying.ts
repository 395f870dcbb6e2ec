import { MINUTE_MS } from '../refusals.ts'
import { SPRAY_MIN_PER_M2, settingsAt } from '../shop/settings.ts'
import { contextOf, type State } from '../state.ts'
import type { PanelContext } from './context.ts'

/**
 * How long a panel takes to spray: area times 2 min/m2, at least a minute; a minute without an area.
 * @param at UTC ms: the shop's own figure is the one that was in force then
 */
export function sprayMs(state: State, { areaM2 }: Pick<PanelContext, 'areaM2'>, at: number) {
  const perM2 = settingsAt(state, at).limits?.sprayMinPerM2 ?? SPRAY_MIN_PER_M2
  return Math.round(Math.max(1, (areaM2 ?? 0) * perM2) * MINUTE_MS)
}

/**
 * How many of the panels of a pass are sprayed to their end before an instant.
 * @param panels in the order in which they are sprayed
 * @param from when the pass begins, UTC ms
 */
export function panelsWithin(
  state: State,
  panels: readonly Pick<PanelContext, 'areaM2'>[],
  from: number,
  until: number,
): number {
  let end = from
  const firstLate = panels.findIndex((panel) => {
    end += sprayMs(state, panel, from)
    return end > until
  })
  return firstLate === -1 ? panels.length : firstLate
}

/** The same of a panel by its id; null for one that is not known. */
export function sprayMsOf(state: State, id: string, at: number): number | null {
  const panel = contextOf(state, 'panel', id)
  const isKnown = panel !== undefined && panel.stays.length > 0
  return isKnown ? sprayMs(state, panel, at) : null
}

/** A history that is read alone has none: what its entries say of the time is what counts there. */
export const hasSettings = ({ things }: State): boolean => Object.keys(things.settings).length > 0
