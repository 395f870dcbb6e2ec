import type { Kind, ThingRef } from './catalog.ts'
import { noteStep } from './lineage.ts'
import type { ContextOf, Thing, Things } from './things.ts'

/** Raised whenever a fold gives another state for the same log: snapshots of another number are not used. */
export const FOLD_VERSION = 31

/** A shop's open work. Plain JSON. */
export type State = {
  readonly shop: string
  readonly foldVersion: number
  readonly head: number
  readonly headHash: string
  readonly recordedAt: number
  readonly things: { readonly [K in Kind]: Things<K> }
}

/**
 * The state of a shop whose log is empty.
 * @param shop its random id
 * @param headHash SHA-256 of that id, the chain's first previous hash
 */
export function emptyState(shop: string, headHash: string): State {
  return {
    shop,
    foldVersion: FOLD_VERSION,
    head: 0,
    headHash,
    recordedAt: 0,
    things: {
      settings: {},
      sheet: {},
      zone: {},
      gun: {},
      air: {},
      person: {},
      job: {},
      panel: {},
      cup: {},
      bell: {},
      devices: {},
    },
  }
}

export const thingOf = <K extends Kind>(state: State, ref: ThingRef<K>): Thing<K> | undefined =>
  Object.hasOwn(state.things[ref.kind], ref.id) ? state.things[ref.kind][ref.id] : undefined

export function withThing<K extends Kind>(state: State, ref: ThingRef<K>, thing: Thing<K>): State {
  const before = state.things[ref.kind]
  const ofKind = { ...before, [ref.id]: thing }
  noteStep(ofKind, before, ref.id)
  return { ...state, things: { ...state.things, [ref.kind]: ofKind } }
}

/** A thing's context; undefined for a thing that is not there. */
export function contextOf<K extends Kind>(
  state: State,
  kind: K,
  id: string | undefined,
): ContextOf<K> | undefined {
  return id === undefined ? undefined : thingOf(state, { kind, id })?.context
}
