import type { CupContents } from '../cup/machine.ts'
import { type Mix, mixesIn } from '../cup/mixes.ts'
import { distinct } from '../distinct.ts'
import type { Stage } from '../sheet/schema.ts'

/** What a coat gets from one of its cups. */
export type Hold = { readonly sheet: string; readonly stage: Stage; readonly mixes: readonly Mix[] }

export const holdOf = (cup: CupContents | null): Hold | null =>
  cup ? { sheet: cup.sheet, stage: cup.stage, mixes: mixesIn(cup) } : null

/** A coat's product and its mixes: those of its last cup, or what its step names where that is not known. */
export type Product = { readonly sheet: string | undefined; readonly mixes: readonly Mix[] }

/**
 * The product of a coat.
 * @param holds what its cups hold, in their order; null for one that is not known
 * @param named the sheet that its step names
 */
export function productOf(holds: readonly (Hold | null)[], named: string | undefined): Product {
  const sheet = holds.at(-1)?.sheet ?? named
  // A coat may hold several mixes of its product: a joined cup's, or those of its cups in turn.
  return {
    sheet,
    mixes: distinct(holds.flatMap((h) => (h !== null && h.sheet === sheet ? h.mixes : []))),
  }
}
