import type { Draft } from '../envelope.ts'
import { type State, thingOf } from '../state.ts'

/** Where a panel was is where the cups were that it was sprayed from. */

const PLACES: readonly string[] = ['PanelAdded', 'PanelMoved']

/** The type of an entry, or of the one that it voids. */
const typeOf = ({ type, data }: Draft): string =>
  type === 'EntryVoided' ? String(data.type) : type

/** Whether an entry adds a panel, or takes that back. */
export const isOfAdding = (entry: Draft): boolean => typeOf(entry) === 'PanelAdded'

/** The cups that a panel was sprayed from since an instant, by its entries: where it was they were. */
export const cupsAt = (entries: readonly Draft[], fromMs = 0): string[] => [
  ...new Set(
    entries.flatMap((e) => (e.at >= fromMs && 'cupZone' in e.data && e.cup ? [e.cup] : [])),
  ),
]

/**
 * The cups of which an entry says where they were: those that its panel was sprayed from since, by their ids.
 * None where it is about no place, or about one of now.
 */
export function cupsPlacedBy(state: State, entry: Draft): string[] {
  if (entry.panel === undefined || !PLACES.includes(typeOf(entry))) return []
  const entries = thingOf(state, { kind: 'panel', id: entry.panel })?.entries ?? []
  // A void is pressed after the coats that followed the move that it takes back.
  return cupsAt(entries, entry.type === 'PanelMoved' ? entry.at : 0)
}
