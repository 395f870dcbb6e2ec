import type { State } from '../state.ts'
import type { ZoneSpec } from './context.ts'

/** Which zones a shop has, and where its panels stand until somebody says otherwise. */

/** The zone of a shop that has saved none and read no air. */
export const FIRST_ZONE = 'booth'
/** Where cups are mixed. */
export const BENCH = 'bench'

const isSprayed = (id: string, spec: ZoneSpec | null): boolean => spec?.sprayed ?? id !== BENCH

/** Whether a zone is offered: one that was taken off the lists is not. */
export const isInUse = (spec: ZoneSpec | null): boolean => spec?.inUse !== false

/** Where coats are sprayed, as far as the shop has said it; the one of a shop without zones else. */
function sprayedZones(state: State): string[] {
  const all = Object.entries(state.things.zone).filter(([, { context }]) => isInUse(context.spec))
  const sprayed = all.filter(([id, { context }]) => isSprayed(id, context.spec))
  const saved = sprayed.filter(([, { context }]) => context.spec !== null)
  const ids = (saved.length > 0 ? saved : sprayed).map(([id]) => id)
  return ids.length > 0 ? ids : [FIRST_ZONE]
}

/**
 * The zone of a panel until another one is given: the only one that the shop sprays in. Of several,
 * the one that a panel came to last.
 */
export function defaultZone(state: State): string {
  const zones = sprayedZones(state)
  // One that is the only one need not be looked for among hundreds of panels.
  if (zones.length === 1) return zones[0] ?? FIRST_ZONE
  const stays = Object.values(state.things.panel).flatMap(({ context }) => context.stays.slice(-1))
  const last = stays
    .filter(({ zone }) => zones.includes(zone))
    .reduce<(typeof stays)[number] | null>((a, b) => (a && a.fromMs >= b.fromMs ? a : b), null)
  return last?.zone ?? zones[0] ?? FIRST_ZONE
}
