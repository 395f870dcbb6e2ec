import type { State } from '../state.ts'
import type { ZoneSpec } from './context.ts'

/** Minutes of moving air after the last coat, before heat, in a zone that does not say. Common practice, no source. */
export const PURGE_MIN = 3

const specsOf = ({ things }: State): [string, ZoneSpec | null][] =>
  Object.entries(things.zone).map(([id, { context }]) => [id, context.spec])

/**
 * A zone and those whose air it shares: what it opens to, and what opens to it. Vapor and sparks go
 * through an opening both ways, whichever of the two it was noted for.
 */
export function zonesAround(state: State, zone: string): readonly string[] {
  const specs = specsOf(state)
  const out = specs.find(([id]) => id === zone)?.[1]?.opensTo ?? []
  const back = specs.flatMap(([id, spec]) => (spec?.opensTo?.includes(zone) ? [id] : []))
  return [...new Set([zone, ...out, ...back])]
}

/** Minutes after heat until a part is cool, in a zone that does not say. Common practice, no source. */
export const COOL_MIN = 30
/** How far a part stays behind the air of a bake, °C, in a zone that does not say. Common practice, no source. */
export const LAG_C = 5

export const coolMinOf = ({ things }: State, zone: string): number =>
  things.zone[zone]?.context.spec?.coolMin ?? COOL_MIN
export const lagOf = ({ things }: State, zone: string): number =>
  things.zone[zone]?.context.spec?.lagC ?? LAG_C

/** The minutes for which a zone is purged before heat. */
export const purgeMinOf = ({ things }: State, zone: string): number =>
  things.zone[zone]?.context.spec?.purgeMin ?? PURGE_MIN
