import {
  type AnyStateMachine,
  type ContextFrom,
  initialTransition,
  type StateValueFrom,
} from 'xstate'
import type { Draft } from './envelope.ts'
import { type Standing, type Stepper, stepperOf } from './stepper.ts'

/** A thing as folded: plain JSON, so that a snapshot is a cache and nothing else. */
export type Folded<C = unknown, V = unknown> = {
  readonly value: V
  readonly context: C
  /** Entries that the machine does not take in its state: kept and shown, never an error. */
  readonly notTaken: readonly string[]
}

/** How long a panel takes to spray, by what the shop had set at an instant; null where that is not known. */
export type Spraying = { readonly sprayMs: (panel: string, at: number) => number | null }

export type Folder<C = unknown, V = unknown> = {
  readonly blank: Folded<C, V>
  step(folded: Folded<C, V>, entry: Draft): Folded<C, V>
  /** The same as stepping through all of them, for things with so many entries that each step must not copy the last. */
  readonly whole?: (entries: readonly Draft[]) => Folded<C, V>
  /** For things whose entries are not folded in the order of their happening alone. */
  readonly order?: {
    /** The entries as they are folded: in their order, each at its time. */
    arranged(
      entries: readonly Draft[],
      by: Spraying,
      blank: Folded<C, V>,
      step: (before: Folded<C, V>, entry: Draft) => Folded<C, V>,
    ): readonly Draft[]
    /** An entry that is behind all others, as it is folded after them; undefined where it comes before some. */
    last(
      before: { readonly context: C; readonly entries: readonly Draft[] },
      entry: Draft,
      by: Spraying,
    ): Draft | undefined
  }
  /** Whether the machine would take an entry from that state: asked before it is recorded. */
  can(from: Standing<C, V>, entry: Draft): boolean
}

/**
 * A folder from a machine: the only caller of XState's pure functions. The machine's events are the
 * log's entries. An event that it does not take leaves the state as it was. The chart is read when the first
 * thing asks: a kiosk draws a Wall from the server's state before it folds anything.
 * @param order for a kind whose entries are not folded in the order of their happening alone
 */
export function machineFolder<M extends AnyStateMachine>(
  machine: M,
  order?: Folder<ContextFrom<M>, StateValueFrom<M>>['order'],
): Folder<ContextFrom<M>, StateValueFrom<M>> {
  type Own = Folder<ContextFrom<M>, StateValueFrom<M>>
  let read: Stepper<ContextFrom<M>, StateValueFrom<M>> | null = null
  let begun: Own['blank'] | null = null
  const chart = () => {
    read ??= stepperOf<ContextFrom<M>, StateValueFrom<M>>(machine)
    return read
  }
  return {
    get blank() {
      if (begun === null) {
        const [initial] = initialTransition<AnyStateMachine>(machine)
        const value = initial.value as StateValueFrom<M>
        begun = { value, context: initial.context, notTaken: [] }
      }
      return begun
    },
    can: (from, entry) => chart().takes(from, entry),
    step(folded, entry) {
      const after = chart().step(folded, entry)
      return after === null
        ? { ...folded, notTaken: [...folded.notTaken, entry.id] }
        : { ...after, notTaken: folded.notTaken }
    },
    ...(order && { order }),
  }
}

/** A folder for things that have no states of their own: settings, readings, sheets, bells. */
export function plainFolder<C>(
  blank: C,
  reduce: (context: C, entry: Draft) => C,
  whole?: (entries: readonly Draft[]) => C,
): Folder<C, 'plain'> {
  return {
    ...(whole && {
      whole: (entries: readonly Draft[]) => ({
        ...{ value: 'plain' as const, context: whole(entries), notTaken: [] },
      }),
    }),
    blank: { value: 'plain', context: blank, notTaken: [] },
    can: () => true,
    step: (folded, entry) => ({ ...folded, context: reduce(folded.context, entry) }),
  }
}
