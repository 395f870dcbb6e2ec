import type { CupContext } from './cup/machine.ts'
import type { Draft, Json } from './envelope.ts'
import type { GunContext } from './gun/machine.ts'
import type { Spraying } from './replay.ts'
import type { State } from './state.ts'

/** Where the fold looks up what an entry names. */
export type Around = Spraying & {
  readonly state: State
  /** A cup as it was at an instant; null for one that is not known, or was not mixed yet. */
  readonly cupAt: (id: string, at: number) => CupContext | null
  /** A gun as it was at an instant; null where that is not held. */
  readonly gunAt: (id: string, at: number) => GunContext | null
  /** A cup as it was just before it was poured from by a command, and what that took of it. */
  readonly beforePour: (id: string, command: string) => CupContext | null
}

/** An entry with more data, or other. */
export const withData = (entry: Draft, data: object): Draft => ({
  ...entry,
  data: { ...entry.data, ...(data as { [key: string]: Json }) },
})
