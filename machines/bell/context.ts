import type { Reach } from './kinds.ts'

/** What became of a bell: kept by its deadline's key. */
export type BellContext = {
  readonly rangAt: number | null
  /** The deadline that rang. A deadline that moves later by over a minute rings again. */
  readonly dueAt: number | null
  readonly acknowledged: readonly {
    readonly at: number
    readonly by: string | null
    readonly device: string | null
  }[]
  readonly snoozes: readonly { readonly at: number; readonly untilMs: number }[]
  /** How far it reached while nobody acknowledged; `shown` is false outside the shop's hours. */
  readonly reached: readonly { readonly at: number; readonly to: Reach; readonly shown: boolean }[]
  /** Until when it is quiet because it called again and again. */
  readonly heldUntilMs: number | null
}
