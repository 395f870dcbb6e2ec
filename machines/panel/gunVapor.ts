import type { Cleaning } from '../gun/machine.ts'
import type { State } from '../state.ts'
import { zoneAt } from './context.ts'

/** Vapor of guns that were cleaned. */

/** A cleaning, and where it was: where that was not said, in the zone of the gun's last coat. */
export type Cleaned = {
  readonly at: number
  readonly zone: string
  readonly sheets: Cleaning['sheets']
}

/** The zone of the last coat that was sprayed from a gun by an instant; undefined where none is known. */
export function zoneOfLastCoat({ things }: State, gun: string, at: number): string | undefined {
  const uses = Object.values(things.panel).flatMap(({ context }) =>
    [...context.coats, ...(context.open ? [context.open] : [])]
      .filter((coat) => coat.gun === gun && coat.startedAt <= at)
      .map(({ startedAt }) => ({ startedAt, zone: zoneAt(context, startedAt) })),
  )
  const [first] = uses
  return first && uses.reduce((a, b) => (b.startedAt > a.startedAt ? b : a), first).zone
}

/** The last cleaning of each gun. */
export const cleanings = (state: State): readonly Cleaned[] =>
  Object.entries(state.things.gun).flatMap(([id, { context }]) => {
    const { cleaning } = context
    const zone = cleaning && (cleaning.zone ?? zoneOfLastCoat(state, id, cleaning.at))
    return cleaning && zone !== undefined
      ? [{ at: cleaning.at, sheets: cleaning.sheets, zone }]
      : []
  })
