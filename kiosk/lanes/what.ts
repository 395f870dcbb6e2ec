import {
  type ReadCup,
  type ReadProblem,
  type ReadThing,
  readCode,
  shopTag,
} from '../../labels/code.ts'
import type { CupContext } from '../../machines/cup/machine.ts'
import { findByPrefix } from '../../machines/lookup.ts'
import { contextOf, type State } from '../../machines/state.ts'

/** What a scan or a typed text means on this kiosk. Pure. */
export type What =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'problem'; readonly problem: ReadProblem }
  | { readonly kind: 'unknown'; readonly id: string }
  | { readonly kind: 'many'; readonly prefix: string }
  /** A cup that this kiosk knows. `label` is set when a label was read; the earlier of both ends binds. */
  | {
      readonly kind: 'cup'
      readonly id: string
      readonly cup: CupContext
      readonly label: ReadCup | null
    }
  /** A label that read well, of a cup that this kiosk does not hold. */
  | { readonly kind: 'label'; readonly label: ReadCup }
  | { readonly kind: 'panel'; readonly id: string }
  | { readonly kind: 'job'; readonly id: string }
  /** A badge, a gun's tag, a shelf: as its code says, in capitals. */
  | { readonly kind: 'thing'; readonly code: ReadThing }

const cupOf = (state: State, id: string): CupContext | undefined =>
  state.things.cup[id]?.value === 'unmixed' ? undefined : contextOf(state, 'cup', id)

/**
 * @param text as it was scanned or typed
 * @param nowMs kiosk time, UTC ms
 */
export function whatIs(state: State, text: string, nowMs: number): What {
  if (text.trim() === '') return { kind: 'nothing' }
  const read = readCode(text, { nowMs, shopTag: shopTag(state.shop) })
  switch (read.kind) {
    case 'problem':
      return { kind: 'problem', problem: read }
    case 'cup': {
      const cup = cupOf(state, read.cup)
      return cup ? { kind: 'cup', id: read.cup, cup, label: read } : { kind: 'label', label: read }
    }
    case 'panel':
      return read.panel in state.things.panel
        ? { kind: 'panel', id: read.panel }
        : { kind: 'unknown', id: read.panel }
    case 'job':
      return { kind: 'job', id: read.id }
    case 'person':
    case 'gun':
    case 'product':
      return { kind: 'thing', code: read }
    case 'typed': {
      const found = findByPrefix(state, read.prefix)
      if (found.kind === 'nothing') return { kind: 'unknown', id: read.prefix }
      if (found.kind === 'many') return { kind: 'many', prefix: read.prefix }
      const cup = found.kind === 'cup' ? cupOf(state, found.id) : undefined
      if (found.kind !== 'cup') return { kind: found.kind, id: found.id }
      return cup
        ? { kind: 'cup', id: found.id, cup, label: null }
        : { kind: 'unknown', id: found.id }
    }
  }
}
