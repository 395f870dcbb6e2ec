import { contextOf, type State } from '../../machines/state.ts'

/** The zones of panels. Pure. */

/** The zone of a panel until another one is given. */
export const FIRST_ZONE = 'booth'

/** Zones that the shop knows: those with readings, and those with panels. */
export function knownZones(state: State): string[] {
  const stays = Object.values(state.things.panel).flatMap((thing) =>
    thing.context.stays.map(({ zone }) => zone),
  )
  return [...new Set([FIRST_ZONE, ...Object.keys(state.things.zone), ...stays])]
}

/** What a zone is called: as saved in Setup, else in words, else by its id. */
export const zoneWord = (state: State, words: Record<string, string>, zone: string): string =>
  contextOf(state, 'zone', zone)?.spec?.name ?? words[zone] ?? zone
