import type { Kind } from '../catalog.ts'
import type { Draft, Entry, Json } from '../envelope.ts'
import type { State } from '../state.ts'
import type { Thing } from '../things.ts'

/**
 * A state as it travels to a kiosk. Most of a state is its entries, and most of an entry are the figures of a
 * sheet that many others have too: entries and figures go once each, and what holds them names their places.
 */

/** Where a kiosk asks for it. */
export const STATE_PATH = '/api/state?as=packed'

type PackedThing = Omit<Thing, 'entries'> & { readonly entries: readonly number[] }

/** What an entry's id, its time and its shop say already is left out. */
type Usual = Pick<Draft, 'shop' | 'command' | 'enteredAt'>
type PackedEntry = Omit<Draft, keyof Usual> & Partial<Usual>

export type PackedState = Omit<State, 'things'> & {
  readonly things: { readonly [kind: string]: { readonly [id: string]: PackedThing } }
  readonly entries: readonly PackedEntry[]
  /** What stands under one of SHARED; there stands its place here instead. */
  readonly shared: readonly Json[]
}

/** Under these keys stands what a sheet or a cup gave, which is the same in entry after entry. */
const SHARED: readonly string[] = ['opens', 'figures', 'mixes', 'own', 'hold', 'route', 'sheet']
/** Stands for a shared value, by its place. No value of a state has this key alone. */
const AT = 'at#'

type Parts = { readonly [key: string]: unknown }
const isObject = (value: unknown): value is Parts => typeof value === 'object' && value !== null

/** A copy in which every value under a shared key was replaced. */
function replaced(value: unknown, replace: (shared: unknown) => unknown): unknown {
  if (Array.isArray(value)) return value.map((one) => replaced(one, replace))
  if (!isObject(value)) return value
  const parts = Object.entries(value).map(([key, one]) => {
    const isShared = SHARED.includes(key) && isObject(one)
    return [key, isShared ? replace(one) : replaced(one, replace)] as const
  })
  return Object.fromEntries(parts)
}

const usualOf = ({ id, at }: Pick<Draft, 'id' | 'at'>, shop: string): Usual => ({
  ...{ shop, command: id.slice(0, id.lastIndexOf('.')), enteredAt: at },
})

/** What an entry was sealed with says nothing to a fold: it is in the log, and /api/entries gives it. */
function withoutUsual(
  entry: Draft & Partial<Pick<Entry, 'hash' | 'commandDigest'>>,
  ofShop: string,
): PackedEntry {
  const { hash, commandDigest, shop, command, enteredAt, ...rest } = entry
  const usual = usualOf(entry, ofShop)
  return {
    ...rest,
    ...(shop === usual.shop ? {} : { shop }),
    ...(command === usual.command ? {} : { command }),
    ...(enteredAt === usual.enteredAt ? {} : { enteredAt }),
  }
}

const mapped = <A, B>(all: { readonly [key: string]: A }, to: (one: A) => B) =>
  Object.fromEntries(Object.entries(all).map(([key, one]) => [key, to(one)] as const))

/** A state with each of its entries, and of the figures that they share, once. */
export function packed({ things, ...state }: State): PackedState {
  const places = new Map<string, number>()
  const entries: PackedEntry[] = []
  const sharedAt = new Map<string, number>()
  const shared: Json[] = []
  const share = (value: unknown) => {
    const text = JSON.stringify(value)
    const at = sharedAt.get(text) ?? shared.push(value as Json) - 1
    sharedAt.set(text, at)
    return { [AT]: at }
  }
  const placeOf = (entry: Draft): number => {
    const known = places.get(entry.id)
    if (known !== undefined) return known
    places.set(entry.id, entries.length)
    return entries.push(replaced(withoutUsual(entry, state.shop), share) as PackedEntry) - 1
  }
  const pack = ({ entries: own, context, ...thing }: Thing): PackedThing => ({
    ...thing,
    context: replaced(context, share) as Thing['context'],
    entries: own.map(placeOf),
  })
  return {
    ...state,
    things: mapped(things, (ofKind) => mapped<Thing, PackedThing>(ofKind, pack)),
    entries,
    shared,
  }
}

/** The state of a packed one. Its things share their entries, and these their figures. */
export function unpacked({ things, entries, shared, ...state }: PackedState): State {
  const back = (value: unknown) => {
    const at = isObject(value) ? value[AT] : undefined
    return typeof at === 'number' ? shared[at] : value
  }
  const whole = entries.map((entry) => {
    const own = replaced(entry, back) as PackedEntry
    return { ...usualOf(own, state.shop), ...own }
  })
  const unpack = ({ entries: places, context, ...thing }: PackedThing): Thing => ({
    ...thing,
    context: replaced(context, back) as Thing['context'],
    entries: places.flatMap((place) => whole[place] ?? []),
  })
  const all = mapped(things, (ofKind) => mapped(ofKind, unpack)) as { [K in Kind]: object }
  return { ...state, things: all as State['things'] }
}
