import { type AnyStateMachine, type AnyStateNode, createActor, type StateValue } from 'xstate'
import { getShortestPaths } from 'xstate/graph'
import type { Draft, Json, ThingKeys } from '../../../machines/envelope.ts'
import { type Folded, machineFolder } from '../../../machines/replay.ts'
import { START_MS } from '../../support/shop.ts'

/** Walks every machine along the shortest ways to its states. */

let count = 0
/** An entry as a machine sees it. */
export function entry(type: string, data: object = {}, keys: ThingKeys = {}): Draft {
  count += 1
  return {
    shop: 'GRAPHSHP',
    id: `g${count}.0`,
    type,
    version: 1,
    at: START_MS + count * 1000,
    enteredAt: START_MS + count * 1000,
    device: null,
    by: null,
    command: `g${count}`,
    seq: count,
    ...keys,
    data: data as { readonly [key: string]: Json },
  }
}

/**
 * The shortest ways to all states that a small alphabet of entries can tell apart.
 * @param keyOf what tells two states apart: the whole context would make the graph endless
 * @param stop where the walk ends
 * @returns the entries of each way
 */
export function waysOf<C>(
  machine: AnyStateMachine,
  alphabet: readonly Draft[],
  keyOf: (value: Json, context: C) => unknown,
  stop: (context: C) => boolean = () => false,
): Draft[][] {
  const paths = getShortestPaths(machine, {
    events: alphabet,
    serializeState: (state) => JSON.stringify(keyOf(state.value as Json, state.context as C)),
    stopWhen: (state) => stop(state.context as C),
    limit: 20_000,
  })
  return paths.map(({ steps }) =>
    steps.map((s) => s.event).filter((e): e is Draft => 'command' in e),
  )
}

/** Where a machine that runs live ends when it is sent a way's entries. */
export function ran(machine: AnyStateMachine, entries: readonly Draft[]) {
  const actor = createActor(machine).start()
  for (const e of entries) actor.send(e)
  const { value, context } = actor.getSnapshot()
  return { value: value as Json, context: context as unknown }
}

/** What the fold makes of a way's entries. */
export function folded(machine: AnyStateMachine, entries: readonly Draft[]): Folded {
  const folder = machineFolder(machine)
  return entries.reduce((so, e) => folder.step(so, e), folder.blank)
}

/** Dotted names of the innermost states of a value: one for each region. */
export function leavesIn(value: StateValue, under = ''): string[] {
  if (typeof value === 'string') return [`${under}${value}`]
  return Object.entries(value).flatMap(([name, inner]) =>
    inner === undefined ? [] : leavesIn(inner, `${under}${name}.`),
  )
}

/** Dotted names of all the innermost states that a machine may rest in: a crossing is left at once. */
export function leavesOf(machine: AnyStateMachine): string[] {
  return nodesOf(machine)
    .filter((node) => Object.keys(node.states).length === 0 && (node.always ?? []).length === 0)
    .map((node) => node.path.join('.'))
}

export function nodesOf(machine: AnyStateMachine): AnyStateNode[] {
  const below = (node: AnyStateNode): AnyStateNode[] => [
    node,
    ...Object.values(node.states as Record<string, AnyStateNode>).flatMap(below),
  ]
  return below(machine.root)
}
