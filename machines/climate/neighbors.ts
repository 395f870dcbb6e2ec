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

/** The minutes for which a zone is purged before heat. */
export const purgeMinOf = ({ things }: State, zone: string): number =>
  things.zone[zone]?.context.spec?.purgeMin ?? PURGE_MIN
