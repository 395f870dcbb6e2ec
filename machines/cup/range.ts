import { readingAt } from '../climate/fold.ts'
import { STALE_MS } from '../clock/line.ts'
import type { Deciding } from '../deciding.ts'
import type { Problem } from '../refusals.ts'
import type { SheetOption } from '../sheet/cureSchema.ts'

/** The air where a cup is mixed. */

/** The air that the cup is judged by, kept with it. */
export function climateOf(d: Deciding, zone: string) {
  const air = readingAt(d.state, zone, d.at)
  return air ? { airC: air.airC, rh: air.rh, readAt: air.at } : null
}

/** What a sheet may give at most as a range; an additive may leave an end of it open. */
const COLDEST_C = -30
const WARMEST_C = 60

/**
 * Activators, reducers and additives that are not meant for the air where they go in: said, and marked.
 * @param options those that were chosen: an activator and a reducer of a sheet may have one name
 */
export function rangeProblems(
  d: Deciding,
  zone: string,
  options: readonly SheetOption[],
): Problem[] {
  const air = climateOf(d, zone)
  if (!air || d.at - air.readAt >= STALE_MS) return []
  return options
    .filter(({ fromC = -Infinity, toC = Infinity }) => air.airC < fromC || air.airC > toC)
    .map(({ name, fromC = COLDEST_C, toC = WARMEST_C }) => ({
      code: 'optionOutside',
      limit: { minC: fromC, maxC: toC },
      value: air.airC,
      about: name,
    }))
}
