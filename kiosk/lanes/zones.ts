import { FIRST_ZONE, isInUse } from '../../machines/climate/zones.ts'
import { contextOf, type State } from '../../machines/state.ts'

/** The zones that a touch offers. Pure. */

/**
 * Zones that the shop has saved or read air in and still uses, and those with panels; the one that is built
 * in where there are none.
 */
export function knownZones(state: State): string[] {
  const panels = Object.values(state.things.panel).map(({ context }) => context.stays)
  const here = new Set(panels.flatMap((stays) => stays.at(-1)?.zone ?? []))
  const all = [...Object.keys(state.things.zone), ...panels.flat().map(({ zone }) => zone)]
  const known = [...new Set(all)].filter(
    (zone) => here.has(zone) || isInUse(contextOf(state, 'zone', zone)?.spec ?? null),
  )
  return known.length > 0 ? known : [FIRST_ZONE]
}

/** What a zone is called: as saved in Setup, else in words, else by its id. */
export const zoneWord = (state: State, words: Record<string, string>, zone: string): string =>
  contextOf(state, 'zone', zone)?.spec?.name ?? words[zone] ?? zone
