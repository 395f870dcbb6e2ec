import type { ContextFrom, StateValueFrom } from 'xstate'
import type { BellContext } from './bell/context.ts'
import type { Kind } from './catalog.ts'
import type { ZoneContext } from './climate/context.ts'
import type { cupMachine } from './cup/machine.ts'
import type { DevicesContext } from './devices/context.ts'
import type { Draft } from './envelope.ts'
import type { gunMachine } from './gun/machine.ts'
import type { jobMachine } from './job/machine.ts'
import type { panelMachine } from './panel/machine.ts'
import type { PersonContext } from './people/context.ts'
import type { Folded, Folder } from './replay.ts'
import type { SheetContext } from './sheet/context.ts'
import type { AirSupplyContext } from './shop/airSupply.ts'
import type { Settings } from './shop/settingsSchema.ts'
import type { Span } from './spans.ts'

/** What each kind of thing is folded to: the one list to extend, beside folders.ts. */
type Machines = {
  gun: typeof gunMachine
  job: typeof jobMachine
  panel: typeof panelMachine
  cup: typeof cupMachine
}

type Plain = {
  settings: Settings
  sheet: SheetContext
  zone: ZoneContext
  air: AirSupplyContext
  person: PersonContext
  bell: BellContext
  devices: DevicesContext
}

type FoldedTo = {
  [K in keyof Machines]: Folded<ContextFrom<Machines[K]>, StateValueFrom<Machines[K]>>
} & { [K in keyof Plain]: Folded<Plain[K], 'plain'> }

/** The context and the states of a kind's things. */
export type ContextOf<K extends Kind> = FoldedTo[K]['context']
export type ValueOf<K extends Kind> = FoldedTo[K]['value']

/** One thing: its entries in the order of occurrence, and their fold. */
export type Thing<K extends Kind = Kind> = Folded<ContextOf<K>, ValueOf<K>> & {
  readonly entries: readonly Draft[]
  /**
   * The times of which its entries are held; all of them where this is absent. What happened at
   * another time was evicted: an entry of then changes nothing here.
   */
  readonly heldMs?: readonly Span[]
}

/** All things of one kind, by id. */
export type Things<K extends Kind = Kind> = { readonly [id: string]: Thing<K> }

/** How each kind of thing is folded. */
export type Folders = { readonly [K in Kind]: Folder<ContextOf<K>, ValueOf<K>> }
