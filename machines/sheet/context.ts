import type { DropOver } from './between.ts'
import type { HeatFlash } from './cureSchema.ts'
import type { ReadyFor } from './intervals.ts'
import type { Prep, Sheet } from './schema.ts'

export type SheetVersion = { readonly version: number; readonly at: number; readonly sheet: Sheet }
/** What the shop says where the sheet is silent, from an instant on. */
export type ShopFigure = {
  readonly at: number
  readonly dropOver?: DropOver
  readonly prep?: Prep
  readonly ready?: { readonly for: ReadyFor; readonly after: HeatFlash }
  readonly keep?: { readonly reduced: boolean; readonly days: number | 'unlimited' }
}
export type SheetContext = {
  readonly versions: readonly SheetVersion[]
  readonly retiredAt: number | null
  readonly figures?: readonly ShopFigure[]
}
