import {
  type AnyStateMachine,
  type ContextFrom,
  initialTransition,
  type StateValueFrom,
  transition,
} from 'xstate'
import type { Draft } from './envelope.ts'

/** A thing as folded: plain JSON, so that a snapshot is a cache and nothing else. */
export type Folded<C = unknown, V = unknown> = {
  readonly value: V
  readonly context: C
  /** Entries that the machine does not take from where it is: kept, shown, never argued with. */
  readonly notTaken: readonly string[]
}

export type Folder<C = unknown, V = unknown> = {
  readonly blank: Folded<C, V>
  step(folded: Folded<C, V>, entry: Draft): Folded<C, V>
}

function noEffects(id: string, effects: readonly unknown[]): void {
  // An effect in a folded machine would run once per replay: it is a bug, never data.
  if (effects.length > 0) throw new Error(`machine ${id} asked for an effect`)
}

/**
 * A folder from a machine: the only caller of XState's pure transition functions. The machine's
 * events are the log's entries. An event that it does not take leaves the state as it was.
 */
export function machineFolder<M extends AnyStateMachine>(
  machine: M,
): Folder<ContextFrom<M>, StateValueFrom<M>> {
  const chart: AnyStateMachine = machine
  const [initial, effects] = initialTransition(chart)
  noEffects(machine.id, effects)
  return {
    blank: { value: initial.value as StateValueFrom<M>, context: initial.context, notTaken: [] },
    step(folded, entry) {
      const before = chart.resolveState({ value: folded.value as never, context: folded.context })
      const [after, asked] = transition(chart, before, entry)
      noEffects(machine.id, asked)
      if (after === before) return { ...folded, notTaken: [...folded.notTaken, entry.id] }
      return {
        value: after.value as StateValueFrom<M>,
        context: after.context,
        notTaken: folded.notTaken,
      }
    },
  }
}

/** A folder for things that have no states of their own: settings, readings, sheets, bells. */
export function plainFolder<C>(
  blank: C,
  reduce: (context: C, entry: Draft) => C,
): Folder<C, 'plain'> {
  return {
    blank: { value: 'plain', context: blank, notTaken: [] },
    step: (folded, entry) => ({ ...folded, context: reduce(folded.context, entry) }),
  }
}
