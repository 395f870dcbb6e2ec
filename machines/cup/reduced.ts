import type { CupContents, CupContext } from './context.ts'
import { earliest, mixedAt } from './keep.ts'

/**
 * From when a mix is reduced, UTC ms, where that is later than its mixing.
 * @param at when reducer is put into it now; null for none
 */
export function reducedAt(
  cups: readonly CupContext[],
  at: number | null,
): Pick<CupContents, 'reducedAt'> {
  const before = cups.map((cup) => cup.reducedAt ?? (cup.reducer === null ? null : mixedAt(cup)))
  const from = earliest([...before, at])
  return from === null ? {} : { reducedAt: from }
}
