import { type DBSchema, openDB } from 'idb'
import { nanoid } from 'nanoid'
import { KINDS, type Kind, type ThingRef } from '../../machines/catalog.ts'
import type { Draft } from '../../machines/envelope.ts'
import { foldThing } from '../../machines/fold.ts'
import type { Span } from '../../machines/spans.ts'
import { FOLD_VERSION, type State, thingOf, withThing } from '../../machines/state.ts'
import type { Thing } from '../../machines/things.ts'

/**
 * The shop as last known, on the device: a row for each thing, so that only those are written that have
 * changed. A zone has two days of readings: each of these is a row, and they are folded when they are read.
 */

export type ShopStore = {
  readonly keep: (state: State) => Promise<void>
  /** The shop as last kept; null for none, or one that this program folds otherwise. */
  readonly kept: () => Promise<State | null>
}

/** Everything but its things. `writer`: the page that wrote last; another one does not know what lies there. */
type Head = Omit<State, 'things'> & { readonly writer: string }
type ThingRow = { readonly ref: ThingRef; readonly thing: Thing }
type ZoneRow = { readonly ref: ThingRef; readonly heldMs: readonly Span[] | undefined }
type AirRow = { readonly zone: string; readonly entry: Draft }

/** What a state has beyond another one, and what it has no more: by the keys of the rows. */
export type Changes = {
  readonly things: ReadonlyMap<string, ThingRow | ZoneRow>
  readonly air: ReadonlyMap<string, AirRow>
  readonly gone: { readonly things: readonly string[]; readonly air: readonly string[] }
}

const keyOf = ({ kind, id }: ThingRef): string => `${kind} ${id}`
const airKey = (zone: string, { id }: Draft): string => `${zone} ${id}`

/** @param before what is kept already; null for nothing */
export function changesOf(state: State, before: State | null): Changes {
  const things = new Map<string, ThingRow | ZoneRow>()
  const air = new Map<string, AirRow>()
  const gone = { things: [] as string[], air: [] as string[] }
  for (const kind of KINDS) {
    const ids = new Set([
      ...Object.keys(state.things[kind]),
      ...Object.keys(before?.things[kind] ?? {}),
    ])
    for (const id of ids) {
      const ref = { kind, id }
      const [thing, was] = [
        thingOf<Kind>(state, ref),
        before ? thingOf<Kind>(before, ref) : undefined,
      ]
      if (thing === was) continue
      if (thing === undefined) gone.things.push(keyOf(ref))
      else things.set(keyOf(ref), kind === 'zone' ? { ref, heldMs: thing.heldMs } : { ref, thing })
      if (kind !== 'zone') continue
      const [now, then] = [new Set(thing?.entries), new Set(was?.entries)]
      const names = new Set(thing?.entries.map((entry) => entry.id))
      for (const entry of now) if (!then.has(entry)) air.set(airKey(id, entry), { zone: id, entry })
      for (const entry of then) if (!names.has(entry.id)) gone.air.push(airKey(id, entry))
    }
  }
  return { things, air, gone }
}

/** The state of which some rows were kept. */
export function stateOf(
  { writer: _, ...head }: Head,
  rows: readonly (ThingRow | ZoneRow)[],
  air: readonly AirRow[],
): State {
  const none = Object.fromEntries(KINDS.map((kind) => [kind, {}])) as State['things']
  let state: State = { ...head, things: none }
  for (const row of rows) {
    if ('thing' in row) state = withThing(state, row.ref, row.thing)
    else {
      const { ref, heldMs } = row
      const entries = air.flatMap(({ zone, entry }) => (zone === ref.id ? [entry] : []))
      const folded = foldThing(state, ref, entries)
      if (folded) state = withThing(state, ref, { ...folded, ...(heldMs ? { heldMs } : {}) })
    }
  }
  return state
}

type Schema = DBSchema & {
  head: { key: string; value: Head }
  things: { key: string; value: ThingRow | ZoneRow }
  air: { key: string; value: AirRow }
}
const STORES = ['head', 'things', 'air'] as const
const HEAD = 'shop'

/** @throws what the browser says where it keeps nothing (a private window, a full disk) */
export async function openShopDb(): Promise<ShopStore> {
  const db = await openDB<Schema>('flashbell-shop', 1, {
    upgrade(made) {
      for (const name of STORES) made.createObjectStore(name)
    },
  })
  const writer = nanoid()
  /** What this page has written: its rows are there as long as no other page has written since. */
  let written: State | null = null
  return {
    async keep(state) {
      const tx = db.transaction(STORES, 'readwrite')
      const head = tx.objectStore('head')
      const things = tx.objectStore('things')
      const air = tx.objectStore('air')
      const isOwn = written !== null && (await head.get(HEAD))?.writer === writer
      if (!isOwn) await Promise.all([things.clear(), air.clear()])
      const changes = changesOf(state, isOwn ? written : null)
      // Until it is on the disk nobody knows what lies there.
      written = null
      const { things: _, ...rest } = state
      await Promise.all([
        ...changes.gone.things.map((key) => things.delete(key)),
        ...changes.gone.air.map((key) => air.delete(key)),
        ...[...changes.things].map(([key, row]) => things.put(row, key)),
        ...[...changes.air].map(([key, row]) => air.put(row, key)),
        head.put({ ...rest, writer }, HEAD),
        tx.done,
      ])
      written = state
    },
    async kept() {
      const tx = db.transaction(STORES)
      const [head, rows, air] = await Promise.all([
        tx.objectStore('head').get(HEAD),
        tx.objectStore('things').getAll(),
        tx.objectStore('air').getAll(),
      ])
      return head?.foldVersion === FOLD_VERSION ? stateOf(head, rows, air) : null
    },
  }
}

/** For a browser that stores nothing: kept as long as the page is open. */
export function memoryShop(): ShopStore {
  let shop: State | null = null
  return {
    async keep(state) {
      shop = state
    },
    kept: async () => shop,
  }
}
