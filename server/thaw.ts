import { streamsOf, type ThingRef } from '../machines/catalog.ts'
import type { AnyCommand } from '../machines/contract.ts'
import { DEVICES } from '../machines/devices/fold.ts'
import type { Draft, Entry } from '../machines/envelope.ts'
import { thaw } from '../machines/fold.ts'
import { needs } from '../machines/needs.ts'
import { contextOf, type State, thingOf, withThing } from '../machines/state.ts'
import type { Thing } from '../machines/things.ts'
import { restsOn } from '../machines/void.ts'
import type { Reader } from './reading.ts'

/**
 * State holds open work only; what a command or an entry needs beyond that is folded again from
 * the log before it is decided or folded.
 */
export type Wanted = {
  readonly refs: readonly ThingRef[]
  /** The earliest instant that is judged or changed, UTC ms. */
  readonly at: number
}

/** What trim evicts of what is known about kiosks. */
const DEVICE_TYPES = [
  'SoundTested',
  'ScreenSlept',
  'BellFlood',
  'ClockJumped',
  'ClockConfirmed',
  'EntryVoided',
] as const

const HOUR_MS = 3_600_000
/** As far back as trim keeps climate before an interval, and so as far as it is fetched again. */
const CLIMATE_MS = 12 * HOUR_MS
/** A finish without a start is judged at its estimated start: no coat is sprayed for longer. */
const SPRAYING_MS = 2 * HOUR_MS

/** What trim evicts whole. Bells come back with the thing that they are about. */
const isLetGoOf = (kind: ThingRef['kind']): kind is 'job' | 'panel' | 'cup' =>
  kind === 'job' || kind === 'panel' || kind === 'cup'

/** Times in a command's data: a finish's start, a replacement's own time. */
function timesIn(command: AnyCommand): number[] {
  const data = command.data as { startedAt?: number; replace?: { at?: number } }
  return [command.at, command.enteredAt, data.startedAt, data.replace?.at].filter(
    (at) => at !== undefined,
  )
}

/**
 * What a command needs: the things that it names, and for a void those of the entries that it
 * names.
 * @param now when it arrived, UTC ms
 */
export async function wantedBy(
  state: State,
  command: AnyCommand,
  now: number,
  reader: Reader,
): Promise<Wanted> {
  const { things, entries, commands } = needs(command)
  const named = (await Promise.all(entries.map(reader.byId))).filter((e) => e !== null)
  // A pour is voided whole: the other entries of its command are wanted too.
  const causes = new Set([...commands, ...named.map((entry) => entry.command)])
  const voided = (await Promise.all([...causes].map(reader.byCommand))).flat()
  const streams = voided.flatMap(streamsOf)
  const users = (await Promise.all(streams.map((ref) => usersOf(state, ref, reader)))).flat()
  // A closed job's entries are not voided, whatever thing they are about.
  const jobs = voided.flatMap(({ job }): ThingRef[] => (job ? [{ kind: 'job', id: job }] : []))
  const at = Math.min(now, ...timesIn(command), ...voided.map((entry) => entry.at))
  const startMs = command.type === 'FinishCoat' ? at - SPRAYING_MS : at
  return {
    refs: [...things, ...streams, ...jobs, ...users],
    at: Math.min(at, ...[...things, ...streams].map((ref) => beginningOf(state, ref, at, startMs))),
  }
}

/**
 * Since when climate may count for what happens to a thing at an instant. Of a panel or cup that has
 * gone on since, trim keeps what its last interval needs, and not what the one of then did.
 * @param startMs when a coat may have begun that is only known by its finish, UTC ms
 */
function beginningOf(state: State, ref: ThingRef, at: number, startMs: number): number {
  const entries = thingOf(state, ref)?.entries ?? []
  const isSprayed = ref.kind === 'panel' && contextOf(state, 'panel', ref.id)?.open !== null
  const from = isSprayed ? at : Math.min(at, startMs)
  const hasGoneOn = (entries.at(-1)?.at ?? 0) > from && (ref.kind === 'panel' || ref.kind === 'cup')
  return hasGoneOn ? (entries[0]?.at ?? at) : at
}

/**
 * What an entry of the log needs before it is folded onto a state that has evicted things.
 * @param before a reader of the entries before it
 */
export async function wantedByEntry(entry: Entry, before: Reader): Promise<Wanted> {
  const { entry: id } = entry.data
  const voided = typeof id === 'string' ? await before.byId(id) : null
  const streams = streamsOf(entry)
  // A bell comes back with the panel or cup that it is about.
  const about = streams.some(({ kind }) => kind === 'bell') ? thingsNamedBy(entry) : []
  return { refs: [...streams, ...about], at: Math.min(entry.at, voided?.at ?? entry.at) }
}

const thingsNamedBy = ({ panel, cup }: Entry): ThingRef[] => [
  ...(panel === undefined ? [] : [{ kind: 'panel' as const, id: panel }]),
  ...(cup === undefined ? [] : [{ kind: 'cup' as const, id: cup }]),
]

/** All times that a log can hold. */
const EVER = { fromAt: 0, toAt: Number.MAX_SAFE_INTEGER }

/** The cups and panels that ever named a sheet or job, the newest first. */
async function namersOf(kind: 'sheet' | 'job', id: string, reader: Reader) {
  const named = await reader.byThing(kind, id)
  // A route names its sheets in its data: no key leads there.
  const types = kind === 'sheet' ? ['PanelAdded', 'RouteSet'] : []
  const routes = (await Promise.all(types.map((type) => reader.byType(type, EVER)))).flat()
  const isNaming = ({ data }: Entry) =>
    (data.route as readonly { sheet?: string }[]).some((step) => step.sheet === id)
  const entries = [...named, ...routes.filter(isNaming)].sort((a, b) => b.position - a.position)
  const refs = entries
    .flatMap(streamsOf)
    .flatMap(({ kind: of, id: its }) =>
      of === 'cup' || of === 'panel' ? [{ kind: of, id: its }] : [],
    )
  return [...new Map(refs.map((ref) => [`${ref.kind} ${ref.id}`, ref])).values()]
}

/** A cup or panel that rests on a sheet or job: one is enough to keep it, however long ago it was. */
async function usersOf(state: State, ref: ThingRef, reader: Reader): Promise<ThingRef[]> {
  const { kind, id } = ref
  if (kind !== 'sheet' && kind !== 'job') return []
  for (const user of await namersOf(kind, id, reader)) {
    const isAtHand = thingOf(state, user) !== undefined
    const whole = isAtHand ? state : thaw(state, user, await reader.byThing(user.kind, user.id))
    if (restsOn(whole, ref, user)) return [user]
  }
  return []
}

/**
 * The state with everything that is wanted folded into it. The same state object when nothing was
 * missing.
 * @throws LogError
 */
export async function bringBack(state: State, wanted: Wanted, reader: Reader): Promise<State> {
  const { state: whole, from } = await thawMissing(state, wanted.refs, reader)
  const since = Math.min(wanted.at, from)
  const isAboutDevices = wanted.refs.some(({ kind }) => kind === DEVICES.kind)
  const heard = isAboutDevices ? await devicesFrom(whole, since - CLIMATE_MS, reader) : whole
  return reachBack(heard, since, reader)
}

/** What was heard and what failed at the kiosks is of their day: it is fetched again where it counts. */
async function devicesFrom(state: State, fromAt: number, reader: Reader): Promise<State> {
  const cutMs = thingOf(state, DEVICES)?.cutMs
  if (cutMs === undefined || cutMs <= fromAt) return state
  const between = { fromAt, toAt: cutMs - 1 }
  const found = await Promise.all(DEVICE_TYPES.map((type) => reader.byType(type, between)))
  return withOlder(state, DEVICES, found.flat(), fromAt)
}

async function thawMissing(
  state: State,
  refs: readonly ThingRef[],
  reader: Reader,
): Promise<{ state: State; from: number }> {
  const todo = [...refs]
  const asked = new Set<string>()
  let whole = state
  let from = Number.POSITIVE_INFINITY
  for (let ref = todo.shift(); ref; ref = todo.shift()) {
    const name = `${ref.kind} ${ref.id}`
    if (!isLetGoOf(ref.kind) || thingOf(whole, ref) || asked.has(name)) continue
    asked.add(name)
    const entries = await reader.byThing(ref.kind, ref.id)
    const thawed = thaw(whole, ref, entries)
    if (thawed === whole) continue
    whole = thawBells(thawed, entries)
    from = entries.reduce((least, entry) => Math.min(least, entry.at), from)
    todo.push(...companions(ref, entries))
  }
  return { state: whole, from }
}

/** A job comes back whole: reopening it makes open work of all its panels. */
function companions(ref: ThingRef, entries: readonly Entry[]): ThingRef[] {
  return entries.flatMap((entry): ThingRef[] => {
    if (ref.kind === 'panel' && entry.job !== undefined) return [{ kind: 'job', id: entry.job }]
    if (ref.kind === 'job' && entry.panel !== undefined) return [{ kind: 'panel', id: entry.panel }]
    return []
  })
}

/** Without them a deadline of weeks ago would ring once more. */
function thawBells(state: State, entries: readonly Entry[]): State {
  const bells = entries.flatMap(streamsOf).filter((ref) => ref.kind === 'bell')
  return bells.reduce((s, ref) => (thingOf(s, ref) ? s : thaw(s, ref, entries)), state)
}

/** Zones and guns stay, but their past was cut: it is fetched again where it is judged by. */
async function reachBack(state: State, from: number, reader: Reader): Promise<State> {
  let whole = state
  for (const [id, zone] of Object.entries(state.things.zone)) {
    const cutMs = from - CLIMATE_MS
    if (zone.cutMs === undefined || zone.cutMs <= cutMs) continue
    const { older, fromAt } = await climateFrom(reader, id, zone, cutMs)
    whole = withOlder(whole, { kind: 'zone', id }, older, fromAt)
  }
  for (const [id, gun] of Object.entries(state.things.gun)) {
    // The cleaning at the cut may itself be voided.
    if (gun.cutMs === undefined || gun.cutMs < from) continue
    whole = withOlder(whole, { kind: 'gun', id }, await reader.byThing('gun', id))
  }
  return whole
}

/**
 * The evicted entries of a zone, back to the reading that was valid at an instant: a reading
 * holds until the next, however long that is.
 */
async function climateFrom(reader: Reader, id: string, zone: Thing, at: number) {
  const toAt = (zone.cutMs ?? 0) - 1
  // A void belongs to what it voids, whatever its own time.
  const voids = await reader.byType('EntryVoided', EVER)
  const voided = new Set([...voids, ...zone.entries].map((entry) => entry.data.entry))
  for (let span = CLIMATE_MS; ; span *= 8) {
    const fromAt = at - span
    const older = await reader.byThing('zone', id, { fromAt, toAt })
    const holds = (e: Entry) => e.type === 'ClimateRead' && e.at <= at && !voided.has(e.id)
    if (!older.some(holds) && fromAt >= 0) continue
    const theirs = voids.filter(({ data }) => older.some((e) => e.id === data.entry))
    return { older: [...older, ...theirs], fromAt }
  }
}

/** A thing with its evicted entries. Those it holds stay: some may not be stored yet. */
function withOlder(state: State, ref: ThingRef, older: readonly Entry[], cutMs?: number): State {
  const kept: readonly Draft[] = thingOf(state, ref)?.entries ?? []
  const all = new Map([...older, ...kept].map((entry) => [entry.id, entry]))
  const thawed = thaw(state, ref, [...all.values()])
  const thing = thingOf(thawed, ref)
  return thing && cutMs !== undefined ? withThing(thawed, ref, { ...thing, cutMs }) : thawed
}
