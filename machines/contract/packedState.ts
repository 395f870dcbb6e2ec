import type { Kind } from '../catalog.ts'
import type { Draft, Entry } from '../envelope.ts'
import type { State } from '../state.ts'
import type { Thing } from '../things.ts'

/**
 * A state as it travels to a kiosk: an entry belongs to several things, and most of a state is its
 * entries. They go once each, and things name them by their places in that list.
 */

/** Where a kiosk asks for it. */
export const STATE_PATH = '/api/state?entries=once'

type PackedThing = Omit<Thing, 'entries'> & { readonly entries: readonly number[] }

export type PackedState = Omit<State, 'things'> & {
  readonly things: { readonly [kind: string]: { readonly [id: string]: PackedThing } }
  readonly entries: readonly Draft[]
}

/** What an entry was sealed with says nothing to a fold: it is in the log, and /api/entries gives it. */
function withoutSeal(entry: Draft & Partial<Pick<Entry, 'hash' | 'commandDigest'>>): Draft {
  const { hash, commandDigest, ...rest } = entry
  return rest
}

const mapped = <A, B>(all: { readonly [key: string]: A }, to: (one: A) => B) =>
  Object.fromEntries(Object.entries(all).map(([key, one]) => [key, to(one)] as const))

/** A state with each of its entries once. */
export function packed({ things, ...state }: State): PackedState {
  const places = new Map<string, number>()
  const entries: Draft[] = []
  const placeOf = (entry: Draft): number => {
    const known = places.get(entry.id)
    if (known !== undefined) return known
    places.set(entry.id, entries.length)
    return entries.push(withoutSeal(entry)) - 1
  }
  const pack = ({ entries: own, ...thing }: Thing): PackedThing => ({
    ...thing,
    entries: own.map(placeOf),
  })
  return {
    ...state,
    things: mapped(things, (ofKind) => mapped<Thing, PackedThing>(ofKind, pack)),
    entries,
  }
}

/** The state of a packed one. Its things share their entries. */
export function unpacked({ things, entries, ...state }: PackedState): State {
  const unpack = ({ entries: places, ...thing }: PackedThing): Thing => ({
    ...thing,
    entries: places.flatMap((place) => entries[place] ?? []),
  })
  const whole = mapped(things, (ofKind) => mapped(ofKind, unpack)) as { [K in Kind]: object }
  return { ...state, things: whole as State['things'] }
}
