import type { AnyStateMachine, AnyStateNode, AnyTransitionDefinition } from 'xstate'
import type { Draft, Json } from './envelope.ts'

/**
 * A machine's own nodes, transitions, guards and assigns, read once into a table that is stepped
 * through. XState's `transition` comes to the same, which a property holds on every path; but it
 * builds an actor for each call, and a log has many entries.
 */
export type Stepper<C, V> = {
  /** Where an entry leads and what it changes; null where the machine does not take it from there. */
  step(from: Standing<C, V>, entry: Draft): Standing<C, V> | null
  /** Whether an arrow for the entry is open from there. */
  takes(from: Standing<C, V>, entry: Draft): boolean
}
export type Standing<C, V> = { readonly value: V; readonly context: C }

type Seen = { readonly context: unknown; readonly event: Draft }
type Change = (seen: Seen) => object

/** One arrow of the chart: when it is open, what it changes, and the leaf that it leads to. */
type Arrow = {
  readonly isOpen: (seen: Seen) => boolean
  readonly changes: readonly Change[]
  readonly to: Leaf | null
}

/** An innermost state with its arrows and those of the states around it, in the order of trying. */
type Leaf = {
  readonly node: AnyStateNode
  readonly on: Map<string, Arrow[]>
  readonly always: Arrow[]
}

/** The state of a machine: a leaf for each of its regions. Each is made once, with its value. */
type Place<V> = {
  readonly leaves: readonly Leaf[]
  readonly value: V
  readonly next: readonly Map<Leaf, Place<V>>[]
}

const children = (node: AnyStateNode): AnyStateNode[] => Object.values(node.states)

/** A guard or action as the chart names it, with what its place in the chart gives it. */
type Named = string | { readonly type: string; readonly params?: unknown }
type Table = Readonly<Record<string, unknown>>

const byName = (named: Named, table: Table): unknown =>
  table[typeof named === 'string' ? named : named.type]

function paramsOf(named: Named, seen: Seen): unknown {
  if (typeof named === 'string') return undefined
  return typeof named.params === 'function' ? named.params(seen) : named.params
}

function guardOf(machine: AnyStateMachine, guard: Named | undefined): Arrow['isOpen'] {
  if (guard === undefined) return () => true
  const check = byName(guard, machine.implementations.guards)
  if (typeof check !== 'function') {
    throw new Error(`machine ${machine.id} has a guard without a function of its name`)
  }
  return (seen) => check(seen, paramsOf(guard, seen)) === true
}

/** What an assign changes. An effect in a folded machine would run once per replay: a bug, never data. */
function changeOf(machine: AnyStateMachine, action: Named): Change {
  const made = byName(action, machine.implementations.actions)
  if (typeof made !== 'function' || !('assignment' in made)) {
    throw new Error(`machine ${machine.id} asked for an effect`)
  }
  const { assignment } = made
  if (typeof assignment === 'function') return (seen) => assignment(seen, paramsOf(action, seen))
  const fields = Object.entries(assignment as Table)
  const one = (value: unknown, seen: Seen): unknown =>
    typeof value === 'function' ? value(seen, paramsOf(action, seen)) : value
  return (seen) => Object.fromEntries(fields.map(([key, value]) => [key, one(value, seen)]))
}

/** The innermost state that is entered with a state. */
function firstIn(node: AnyStateNode): AnyStateNode {
  const first = node.type === 'compound' ? node.initial.target[0] : undefined
  return first ? firstIn(first) : node
}

/** The value of one region: "open", or the names from the outer state to the inner one. */
const nested = ([name, ...inner]: readonly string[]): Json => {
  if (name === undefined) return {}
  return inner.length === 0 ? name : { [name]: nested(inner) }
}

function checked(machine: AnyStateMachine, node: AnyStateNode): void {
  const isKnown = node.type === 'atomic' || node.type === 'compound' || node === machine.root
  if (!isKnown || node.after.length + node.invoke.length > 0) {
    throw new Error(`state ${node.id} cannot be folded: it waits, calls, remembers or ends`)
  }
  if (node.entry.length + node.exit.length > 0) {
    throw new Error(`machine ${machine.id} asked for an effect`)
  }
}

/** The leaves of a machine by region, with their arrows. An arrow stays in its region. */
function regionsOf(machine: AnyStateMachine): Map<AnyStateNode, Leaf>[] {
  const { root } = machine
  const isParallel = root.type === 'parallel'
  if (isParallel && root.transitions.size > 0) {
    throw new Error(`machine ${machine.id} has an arrow that leaves all its regions`)
  }
  const regions = (isParallel ? children(root) : [root]).map((region) => ({
    region,
    leaves: new Map<AnyStateNode, Leaf>(),
  }))
  const below = (node: AnyStateNode): AnyStateNode[] =>
    node.type === 'atomic' ? [node] : children(node).flatMap(below)
  for (const { region, leaves } of regions) {
    for (const node of below(region)) leaves.set(node, { node, on: new Map(), always: [] })
    const arrowOf = ({ source, target, guard, actions }: AnyTransitionDefinition): Arrow => {
      const to = target?.[0] && leaves.get(firstIn(target[0]))
      if (target && (target.length > 1 || !to)) {
        throw new Error(`an arrow of ${source.id} leads out of its region`)
      }
      return {
        isOpen: guardOf(machine, guard as Named | undefined),
        changes: actions.map((action) => changeOf(machine, action as Named)),
        to: to ?? null,
      }
    }
    for (const leaf of leaves.values()) {
      // From the inside out: what a state says goes before what the states around it say.
      for (let node = leaf.node; ; node = node.parent as AnyStateNode) {
        checked(machine, node)
        for (const [type, all] of node.transitions) {
          leaf.on.set(type, [...(leaf.on.get(type) ?? []), ...all.map(arrowOf)])
        }
        leaf.always.push(...(node.always ?? []).map(arrowOf))
        if (node === region) break
      }
    }
  }
  return regions.map(({ leaves }) => leaves)
}

const NONE: readonly Arrow[] = []

/** The first open arrow. */
function openOf(arrows: readonly Arrow[], seen: Seen): Arrow | undefined {
  for (const arrow of arrows) if (arrow.isOpen(seen)) return arrow
  return undefined
}

/**
 * A stepper from a machine's definition.
 * @throws for a machine that has effects, waits, or has an arrow from one region into another
 */
export function stepperOf<C, V>(machine: AnyStateMachine): Stepper<C, V> {
  const regions = regionsOf(machine)
  const byValue = new Map<unknown, Place<V>>()

  function placeOf(leaves: readonly Leaf[]): Place<V> {
    const values = leaves.map(({ node }) => nested(node.path))
    const value = regions.length === 1 ? (values[0] ?? '') : Object.assign({}, ...values)
    const key = JSON.stringify(value)
    const known = byValue.get(key)
    if (known) return known
    const place = { leaves, value, next: leaves.map(() => new Map<Leaf, Place<V>>()) }
    byValue.set(key, place)
    byValue.set(value, place)
    return place
  }

  const everywhere = regions.reduce<readonly (readonly Leaf[])[]>(
    (all, leaves) => all.flatMap((some) => [...leaves.values()].map((leaf) => [...some, leaf])),
    [[]],
  )
  for (const leaves of everywhere) placeOf(leaves)

  /** The value itself where this stepper made it, else one that came as JSON. */
  function placeAt(value: V): Place<V> {
    const place = byValue.get(value) ?? byValue.get(JSON.stringify(value))
    if (!place) throw new Error(`machine ${machine.id} has no state ${JSON.stringify(value)}`)
    return place
  }

  function moved(place: Place<V>, region: number, leaf: Leaf): Place<V> {
    const known = place.next[region]?.get(leaf)
    if (known) return known
    const to = placeOf(place.leaves.with(region, leaf))
    place.next[region]?.set(leaf, to)
    return to
  }

  /** One step of all regions at once: the arrows are chosen before anything changes. */
  function follow(
    place: Place<V>,
    context: C,
    event: Draft,
    arrowsOf: (leaf: Leaf) => readonly Arrow[],
  ) {
    const seen = { context, event }
    const chosen = place.leaves.map((leaf) => openOf(arrowsOf(leaf), seen))
    let to = place
    let changed = context
    chosen.forEach((arrow, region) => {
      if (!arrow) return
      for (const change of arrow.changes) {
        changed = { ...changed, ...change({ context: changed, event }) }
      }
      if (arrow.to) to = moved(to, region, arrow.to)
    })
    return { place: to, context: changed }
  }

  return {
    takes({ value, context }, event) {
      const seen = { context, event }
      return placeAt(value).leaves.some((leaf) => {
        const arrow = openOf(leaf.on.get(event.type) ?? NONE, seen)
        return arrow !== undefined && (arrow.to !== null || arrow.changes.length > 0)
      })
    },
    step({ value, context }, event) {
      const from = placeAt(value)
      let at = follow(from, context, event, (leaf) => leaf.on.get(event.type) ?? NONE)
      for (let isMoving = true; isMoving; ) {
        const next = follow(at.place, at.context, event, (leaf) => leaf.always)
        isMoving = next.place !== at.place
        at = next
      }
      return at.place === from && at.context === context
        ? null
        : { value: at.place.value, context: at.context }
    },
  }
}
