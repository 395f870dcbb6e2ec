import { EVENTS, type Kind, streamsOf, type ThingRef } from '../machines/catalog.ts'
import { longestCupMs } from '../machines/cup/ends.ts'
import { DEVICES } from '../machines/devices/fold.ts'
import type { Entry } from '../machines/envelope.ts'
import { gunSpans, HELD_AFTER } from '../machines/evict.ts'
import { SETS_UP, withHeld } from '../machines/fold.ts'
import { FOREVER_MS } from '../machines/spans.ts'
import { TAIL_MS } from '../machines/standing.ts'
import { type State, thingOf, withThing } from '../machines/state.ts'
import type { Head, Last, LastAsked, Store } from './log/log.ts'
import { type Reader, readerOf } from './reading.ts'
import { reload, withAir, withEntries, withSpan } from './reload.ts'

/**
 * A shop's open work, found in its log by index: what a start without a snapshot needs. It reads what is
 * open and what the shop was set up with, and looks once at each job, panel and late cup for how it
 * ended; not the years between. tests/machines/properties and tests/server hold it equal to a fold of
 * the whole log.
 */

/** Of these kinds everything is held, however old it is. */
const KEPT: readonly Kind[] = ['settings', 'sheet', 'air', 'person']
const typesOf = (fits: (kinds: readonly Kind[], type: string) => boolean): string[] =>
  Object.entries(EVENTS).flatMap(([type, { of }]) => (fits(of, type) ? [type] : []))
const KEPT_TYPES = typesOf(
  (kinds, type) => SETS_UP.includes(type) || kinds.some((kind) => KEPT.includes(kind)),
)
const DEVICE_TYPES = typesOf((kinds) => kinds.includes('devices'))
const CUP_TYPES = [...typesOf((kinds) => kinds.includes('cup')), 'EntryVoided']

const EVER = { fromAt: 0, toAt: FOREVER_MS }

type Search = {
  readonly reader: Reader
  readonly lastOfEach: (asked: LastAsked) => Promise<readonly Last[]>
  /** What was open then is looked for, UTC ms. */
  readonly thenMs: number
}

/**
 * @param blank the state of the shop before its first entry
 * @param head where its log ends
 * @param now UTC ms
 * @param thenMs since when what is over is left out: now, or earlier while the clock is in doubt
 * @throws LogError
 */
export async function openWork(
  store: Store,
  blank: State,
  head: Head,
  { now, thenMs }: { readonly now: number; readonly thenMs: number },
): Promise<State> {
  const { shop } = blank
  const reader = readerOf(store, shop)
  const search = { reader, thenMs, lastOfEach: (of: LastAsked) => store.lastOfEach(shop, of) }
  const { position, hash, recordedAt } = head
  let state: State = { ...blank, head: position, headHash: hash, recordedAt }
  state = await withTypes(state, KEPT_TYPES, EVER.fromAt, reader)
  state = await withDevices(state, search)
  const since = { fromMs: thenMs - TAIL_MS, toMs: FOREVER_MS }
  for (const zone of await store.idsOf(shop, 'zone'))
    state = await withSpan(state, { zone, ...since }, reader)
  const cups = await cupsOpen(state, search)
  const jobs = [...(await jobsOpen(search)), ...cups.flatMap(({ job }) => job ?? [])]
  const of = await Promise.all([...new Set(jobs)].map((id) => reader.byThing('job', id)))
  // The cups first: what is evicted again at once has given its figures by then.
  const open = cups.map(({ id }) => ({ kind: 'cup' as const, id }))
  state = await reload(state, [...open, ...cupsIn(of.flat())], reader)
  for (const gun of await store.idsOf(shop, 'gun')) state = await withGun(state, gun, search)
  const refs = jobs.map((id) => ({ kind: 'job' as const, id }))
  state = await reload(state, refs, reader)
  const clocked = (['panel', 'cup', 'gun'] as const).flatMap((kind) =>
    Object.keys(state.things[kind]).map((id) => ({ kind, id })),
  )
  return await withAir(state, clocked, now, reader)
}

/** The state with all things that entries of some types are of. */
async function withTypes(
  state: State,
  types: readonly string[],
  fromAt: number,
  reader: Reader,
): Promise<State> {
  const found: Entry[] = []
  for (const type of types) found.push(...(await reader.byType(type, { fromAt, toAt: FOREVER_MS })))
  const entries = [...found, ...(await reader.voidsOf(found.map(({ id }) => id)))]
  return withStreams(state, found.flatMap(streamsOf), entries)
}

function withStreams(state: State, refs: readonly ThingRef[], entries: readonly Entry[]): State {
  const each = new Map(refs.map((ref) => [`${ref.kind} ${ref.id}`, ref]))
  return [...each.values()].reduce((whole, ref) => withEntries(whole, ref, entries), state)
}

async function withDevices(state: State, { reader, thenMs }: Search): Promise<State> {
  const fromMs = thenMs - TAIL_MS
  const whole = await withTypes(state, DEVICE_TYPES, fromMs, reader)
  const thing = thingOf(whole, DEVICES)
  return thing
    ? withThing(whole, DEVICES, withHeld(whole, DEVICES, thing, [{ fromMs, toMs: FOREVER_MS }]))
    : whole
}

/** The cups that entries name: what was decided before a cup was known takes its figures from it. */
const cupsIn = (entries: readonly Entry[]): ThingRef[] =>
  [...new Set(entries.flatMap(({ cup }) => cup ?? []))].map((id) => ({ kind: 'cup', id }))

/** A gun with its loads, back to where what it holds begins. */
async function withGun(state: State, gun: string, { reader, thenMs }: Search): Promise<State> {
  const ref = { kind: 'gun', id: gun } as const
  const lasts = await Promise.all(
    ['GunLoaded', 'CoatStarted', 'GunCleaned'].map((type) =>
      reader.lastBefore('gun', gun, type, FOREVER_MS),
    ),
  )
  const lastMs = Math.min(thenMs, Math.max(0, ...lasts.map((entry) => entry?.at ?? 0)))
  for (let backMs = TAIL_MS; ; backMs *= 4) {
    const fromAt = Math.max(0, Math.min(lastMs, thenMs - TAIL_MS) - backMs)
    const found = await reader.byThing('gun', gun, { fromAt, toAt: FOREVER_MS })
    const voids = await reader.voidsOf(found.map(({ id }) => id))
    const refs = [ref, ...found.flatMap(streamsOf).filter(({ kind }) => kind === 'bell')]
    const whole = withStreams(await reload(state, cupsIn(found), reader), refs, [
      ...found,
      ...voids,
    ])
    const thing = thingOf(whole, ref)
    if (!thing) return state
    const isReached = gunSpans(thing, thenMs).some(({ fromMs }) => fromMs > fromAt)
    if (fromAt > 0 && !isReached) continue
    return withThing(
      whole,
      ref,
      withHeld(whole, ref, thing, [{ fromMs: fromAt, toMs: FOREVER_MS }]),
    )
  }
}

/** The jobs that are not closed, or not for long, and have a panel that did not pass long ago. */
async function jobsOpen({ lastOfEach, thenMs }: Search): Promise<string[]> {
  const isOver = ({ last }: Last, types: readonly string[], afterMs: number) =>
    last !== null && types.includes(last.type) && last.at + afterMs <= thenMs
  const jobs = await lastOfEach({
    ...{ key: 'job', named: ['JobOpened'], fromAt: EVER.fromAt },
    // A pass ends the look back through a job that nobody closes.
    types: ['JobOpened', 'JobClosed', 'JobReopened', 'PanelPassed'],
  })
  const open = jobs.filter((job) => !isOver(job, ['JobClosed'], HELD_AFTER.closedMs))
  if (open.length === 0) return []
  const panels = await lastOfEach({
    ...{ key: 'panel', named: ['PanelAdded'], fromAt: EVER.fromAt },
    types: ['PanelAdded', 'PanelPassed', 'PanelSentBack', 'PanelRemoved'],
  })
  const passed = new Set(panels.map(({ job }) => job))
  for (const panel of panels) {
    const isGone = panel.last?.type === 'PanelRemoved'
    if (!isGone && !isOver(panel, ['PanelPassed'], HELD_AFTER.passedMs)) passed.delete(panel.job)
  }
  return open.flatMap(({ id }) => (passed.has(id) ? [] : [id]))
}

/** The cups that were not emptied, or not long ago, and those that something was said of too early. */
async function cupsOpen(state: State, { lastOfEach, thenMs }: Search): Promise<readonly Last[]> {
  const named = ['CupMixed', 'CupPoured']
  const weekAgo = thenMs - HELD_AFTER.endedMs
  const made = await lastOfEach({
    ...{ key: 'cup', named, fromAt: weekAgo - longestCupMs(state) },
    types: [...named, 'CupEmptied'],
  })
  const told = await lastOfEach({ key: 'cup', named: CUP_TYPES, fromAt: weekAgo, types: named })
  const inUse = made.filter(
    ({ last }) => last?.type !== 'CupEmptied' || last.at + HELD_AFTER.emptiedMs > thenMs,
  )
  return [...inUse, ...told.filter(({ last }) => last === null)]
}
