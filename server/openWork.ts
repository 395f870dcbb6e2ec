import { EVENTS, type Kind, streamsOf, type ThingRef } from '../machines/catalog.ts'
import { cupsNamedIn } from '../machines/complete.ts'
import { DEVICES } from '../machines/devices/fold.ts'
import type { Entry } from '../machines/envelope.ts'
import { EVICTED_WHOLE, evictedAlso, refsOf } from '../machines/evict.ts'
import { SETS_UP } from '../machines/fold.ts'
import { withHeld } from '../machines/held.ts'
import { FOREVER_MS, joined, type Span } from '../machines/spans.ts'
import { emptyState, type State, thingOf, withThing } from '../machines/state.ts'
import type { Thing } from '../machines/things.ts'
import { emptyHead } from './log/chain.ts'
import { keptText, readKept } from './log/keptJson.ts'
import type { SideStore, Store } from './log/log.ts'
import { type Reader, readerOf, understood } from './reading.ts'
import { reload, withFiguresOf } from './reload.ts'
import { withEntries } from './withEntries.ts'

/**
 * What was open work at a position of the log: the ids alone, and of which times zones, guns and devices
 * are held. With every new version of the fold the snapshots of before cannot be used; by these ids open
 * work is read from the log and folded, and not the years that are over. A cache like the snapshot:
 * whatever is odd about it, the whole log is folded.
 */

type Whole = (typeof EVICTED_WHOLE)[number]
type InPart = (typeof IN_PART)[number]
type Held = { readonly [id: string]: readonly Span[] | null }

type OpenWork = {
  /** Up to where the log was folded, and the hash that stands there. */
  readonly head: number
  readonly headHash: string
  /** UTC ms, as State has it. */
  readonly recordedAt: number
  readonly whole: { readonly [K in Whole]: readonly string[] }
  /** Null where all times are held. */
  readonly inPart: { readonly [K in InPart]: Held }
  /**
   * When it is that what zones hold happened. Everything that is done in a zone names it: the last reading of a shop
   * without a meter may be years ago, and all of these years name the zone. Lists of before do not have it.
   */
  readonly zonesAt?: { readonly [zone: string]: readonly Span[] }
}

/** Of these only some times are held. */
const IN_PART = ['zone', 'gun', 'devices'] as const
/** Of these everything is held, however old it is. */
const KEPT: readonly Kind[] = ['settings', 'sheet', 'air', 'person']

const typesOf = (fits: (kinds: readonly Kind[], type: string) => boolean): string[] =>
  Object.entries(EVENTS).flatMap(([type, { of }]) => (fits(of, type) ? [type] : []))
const SETS_UP_TYPES = typesOf(
  (kinds, type) => SETS_UP.includes(type) || kinds.some((kind) => KEPT.includes(kind)),
)
const DEVICE_TYPES = typesOf((kinds) => kinds.includes('devices'))
const EVER: Span = { fromMs: 0, toMs: FOREVER_MS }

/** What is nearer to each other is read at once. */
const NEAR_MS = 60 * 60_000

/** The times of what a zone holds beyond what it was set up with. */
const timesOf = ({ entries }: Thing<'zone'>): Span[] =>
  joined(
    entries.flatMap(({ type, at }) =>
      SETS_UP.includes(type) ? [] : [{ fromMs: at, toMs: at + NEAR_MS }],
    ),
  )

const keyOf = (shop: string): string => `open ${shop}`

/** Keeps which things a state holds. @throws LogError */
export async function keepOpenWork(store: SideStore, state: State): Promise<void> {
  const { shop, head, headHash, recordedAt, things } = state
  const held = (kind: InPart): Held =>
    Object.fromEntries(Object.entries(things[kind]).map(([id, { heldMs }]) => [id, heldMs ?? null]))
  const { job, panel, cup, bell } = things
  const open: OpenWork = {
    ...{ head, headHash, recordedAt },
    whole: {
      ...{ job: Object.keys(job), panel: Object.keys(panel) },
      ...{ cup: Object.keys(cup), bell: Object.keys(bell) },
    },
    inPart: { zone: held('zone'), gun: held('gun'), devices: held('devices') },
    zonesAt: Object.fromEntries(
      Object.entries(things.zone).map(([id, zone]) => [id, timesOf(zone)]),
    ),
  }
  await store.putMeta(keyOf(shop), keptText(open))
}

/**
 * Open work, folded from its entries in the log.
 * @returns as the fold of the whole log had it at the position up to which it was kept; null where nothing
 *   was kept of this log
 * @throws LogError
 */
export async function openWorkOf(store: Store, shop: string): Promise<State | null> {
  const text = await store.getMeta(keyOf(shop))
  const open = text === null ? null : readKept<OpenWork>(text)?.value
  if (!open || open.head < 1) return null
  const { head, headHash, recordedAt } = open
  const reader = readerOf(store, shop, head + 1)
  const [last] = await reader.page({ after: head - 1, limit: 1 })
  if (last?.hash !== headHash) return null
  const blank = { ...emptyState(shop, emptyHead(shop).hash), head, headHash, recordedAt }
  let state = await withTypes(blank, SETS_UP_TYPES, [EVER], reader)
  state = await withParts(state, open, reader)
  const refs = (['cup', 'job', 'panel'] as const).flatMap((kind) =>
    open.whole[kind].map((id) => ({ kind, id })),
  )
  const inGuns = Object.values(state.things.gun).flatMap(({ entries }) => cupsNamedIn(entries))
  const loaded = await reload(state, refs, reader)
  const whole = await withFiguresOf(loaded, new Set(inGuns), reader)
  const isOver = ({ kind, id }: ThingRef<Whole>) => !open.whole[kind].includes(id)
  const over = refsOf(whole, EVICTED_WHOLE).filter(isOver)
  return understood(shop, 'what is open work', () => evictedAlso(whole, over))
}

/** The state with all things that entries of some types are of. */
async function withTypes(
  state: State,
  types: readonly string[],
  spans: readonly Span[],
  reader: Reader,
): Promise<State> {
  const found: Entry[] = []
  for (const type of types)
    for (const { fromMs, toMs } of spans)
      found.push(...(await reader.byType(type, { fromAt: fromMs, toAt: toMs })))
  return await withStreams(state, found.flatMap(streamsOf), found, reader)
}

async function withStreams(
  state: State,
  refs: readonly ThingRef[],
  found: readonly Entry[],
  reader: Reader,
): Promise<State> {
  const voids = await reader.voidsOf(found.map(({ id }) => id))
  const each = new Map(refs.map((ref) => [`${ref.kind} ${ref.id}`, ref]))
  return [...each.values()].reduce(
    (whole, ref) => withEntries(whole, ref, [...found, ...voids]),
    state,
  )
}

/** The state with zones, guns and devices, of the times that were held. */
async function withParts(
  state: State,
  { inPart, zonesAt = {} }: OpenWork,
  reader: Reader,
): Promise<State> {
  const { [DEVICES.id]: ofDevices = null } = inPart.devices
  let whole = heldOnly(
    await withTypes(state, DEVICE_TYPES, ofDevices ?? [EVER], reader),
    DEVICES,
    ofDevices,
  )
  for (const kind of ['zone', 'gun'] as const)
    for (const [id, spans] of Object.entries(inPart[kind])) {
      const found: Entry[] = []
      const times = kind === 'zone' ? zonesAt[id] : undefined
      for (const { fromMs, toMs } of times ?? spans ?? [EVER])
        found.push(...(await reader.byThing(kind, id, { fromAt: fromMs, toAt: toMs })))
      const bells = found.flatMap(streamsOf).filter((ref) => ref.kind === 'bell')
      whole = await withStreams(whole, [{ kind, id }, ...bells], found, reader)
      whole = heldOnly(whole, { kind, id }, spans)
    }
  return whole
}

function heldOnly<K extends InPart>(
  state: State,
  ref: ThingRef<K>,
  spans: readonly Span[] | null,
): State {
  const thing = thingOf(state, ref)
  return thing && spans ? withThing(state, ref, withHeld(state, ref, thing, spans)) : state
}
