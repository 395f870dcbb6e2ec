import type { Sheet } from './schema.ts'

export type SheetVersion = { readonly version: number; readonly at: number; readonly sheet: Sheet }
export type SheetContext = {
  readonly versions: readonly SheetVersion[]
  readonly retiredAt: number | null
}
