import { type AnyStateMachine, initialTransition, transition } from 'xstate'
import type { Draft, Json } from './envelope.ts'

/** A thing as folded: plain JSON, so that a snapshot is a cache and nothing else. */
export type Folded = {
  readonly value: Json
  readonly context: unknown
  /** Entries that the machine does not take from where it is: kept, shown, never argued with. */
  readonly notTaken: readonly string[]
}

export type Folder = {
  readonly blank: Folded
  step(folded: Folded, entry: Draft): Folded
}

function noEffects(id: string, effects: readonly unknown[]): void {
  // An effect in a folded machine would run once per replay: it is a bug, never data.
  if (effects.length > 0) throw new Error(`machine ${id} asked for an effect`)
}

/**
 * A folder from a machine: the only caller of XState's pure transition functions. The machine's
 * events are the log's entries. An event that it does not take leaves the state as it was.
 */
export function machineFolder(machine: AnyStateMachine): Folder {
  const [initial, effects] = initialTransition(machine)
  noEffects(machine.id, effects)
  return {
    blank: { value: initial.value as Json, context: initial.context, notTaken: [] },
    step(folded, entry) {
      const before = machine.resolveState({ value: folded.value as never, context: folded.context })
      const [after, asked] = transition(machine, before, entry)
      noEffects(machine.id, asked)
      if (after === before) return { ...folded, notTaken: [...folded.notTaken, entry.id] }
      return { value: after.value as Json, context: after.context, notTaken: folded.notTaken }
    },
  }
}

/** A folder for things that have no states of their own: settings, readings, sheets, bells. */
export function plainFolder<C>(blank: C, reduce: (context: C, entry: Draft) => C): Folder {
  return {
    blank: { value: 'plain', context: blank, notTaken: [] },
    step: (folded, entry) => ({ ...folded, context: reduce(folded.context as C, entry) }),
  }
}
