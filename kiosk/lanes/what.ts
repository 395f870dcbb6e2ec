import { type ReadCup, type ReadProblem, readCode, shopTag } from '../../labels/code.ts'
import type { CupContext } from '../../machines/cup/machine.ts'
import { findByPrefix } from '../../machines/lookup.ts'
import { contextOf, type State } from '../../machines/state.ts'

/** What a scan or a typed text means on this kiosk. Pure. */
export type What =
  | { readonly is: 'nothing' }
  | { readonly is: 'problem'; readonly problem: ReadProblem }
  | { readonly is: 'unknown'; readonly id: string }
  | { readonly is: 'many'; readonly prefix: string }
  /** A cup that this kiosk knows. `label` is set when a label was read; the earlier of both ends binds. */
  | {
      readonly is: 'cup'
      readonly id: string
      readonly cup: CupContext
      readonly label: ReadCup | null
    }
  /** A label that read well, of a cup that this kiosk does not hold. */
  | { readonly is: 'label'; readonly label: ReadCup }
  | { readonly is: 'panel'; readonly id: string }
  | { readonly is: 'job'; readonly id: string }

const cupOf = (state: State, id: string): CupContext | undefined =>
  state.things.cup[id]?.value === 'unmixed' ? undefined : contextOf(state, 'cup', id)

/**
 * @param text as it was scanned or typed
 * @param nowMs kiosk time, UTC ms
 */
export function whatIs(state: State, text: string, nowMs: number): What {
  if (text.trim() === '') return { is: 'nothing' }
  const read = readCode(text, { nowMs, shopTag: shopTag(state.shop) })
  switch (read.kind) {
    case 'problem':
      return { is: 'problem', problem: read }
    case 'cup': {
      const cup = cupOf(state, read.cup)
      return cup ? { is: 'cup', id: read.cup, cup, label: read } : { is: 'label', label: read }
    }
    case 'panel':
      return read.panel in state.things.panel
        ? { is: 'panel', id: read.panel }
        : { is: 'unknown', id: read.panel }
    case 'typed': {
      const found = findByPrefix(state, read.prefix)
      if (found.is === 'nothing') return { is: 'unknown', id: read.prefix }
      if (found.is === 'many') return { is: 'many', prefix: read.prefix }
      const cup = found.is === 'cup' ? cupOf(state, found.id) : undefined
      if (found.is !== 'cup') return { is: found.is, id: found.id }
      return cup ? { is: 'cup', id: found.id, cup, label: null } : { is: 'unknown', id: found.id }
    }
  }
}
