import { coat, mix, SEALER_CUP, vanWith } from './given.ts'
import { BASE, SEALER } from './sheets.ts'
import type { Shop } from './shop.ts'

/** A sealer whose window shuts, and another cup of it. */

export const FRESH = 'FFFF2222'

const ROUTE = [
  { stage: 'sealer', sheet: SEALER.sheet },
  { stage: 'base', sheet: BASE.sheet },
]

/** A sealer under base, at minute 230; its window of four hours shuts at minute 243. */
export const sealed = (afterWindow: string): Shop =>
  coat(vanWith(ROUTE, [{ ...SEALER, afterWindow }, BASE]), SEALER_CUP, 1, 3).at(230)

export const withFresh = (shop: Shop): Shop => mix(shop, FRESH, SEALER.sheet)
