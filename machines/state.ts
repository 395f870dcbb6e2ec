import type { Kind, ThingRef } from './catalog.ts'
import type { Draft } from './envelope.ts'
import type { Folded } from './replay.ts'

/** Raised whenever a fold gives another state for the same log: snapshots of another number are not used. */
export const FOLD_VERSION = 4

/** One thing: its entries in the order of occurrence, and what they come to. */
export type Thing = Folded & {
  readonly entries: readonly Draft[]
  /** What happened before this was let go of by trim: older entries change nothing here. */
  readonly cutMs?: number
}

/** A shop's open work. Plain JSON. */
export type State = {
  readonly shop: string
  readonly foldVersion: number
  readonly head: number
  readonly headHash: string
  readonly recordedAt: number
  readonly things: { readonly [K in Kind]: { readonly [id: string]: Thing } }
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

export const thingOf = (state: State, ref: ThingRef): Thing | undefined =>
  Object.hasOwn(state.things[ref.kind], ref.id) ? state.things[ref.kind][ref.id] : undefined

export function withThing(state: State, ref: ThingRef, thing: Thing): State {
  const ofKind = { ...state.things[ref.kind], [ref.id]: thing }
  return { ...state, things: { ...state.things, [ref.kind]: ofKind } }
}

/** A thing's context, typed by its kind's own module; undefined for a thing that is not there. */
export function contextOf<C>(state: State, kind: Kind, id: string | undefined): C | undefined {
  return id === undefined ? undefined : (thingOf(state, { kind, id })?.context as C | undefined)
}
