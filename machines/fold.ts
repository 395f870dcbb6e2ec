import { type Kind, streamsOf, type ThingRef } from './catalog.ts'
import { looksAround } from './complete.ts'
import type { CupContext } from './cup/context.ts'
import { byOccurrence, type Draft, type Entry } from './envelope.ts'
import { folders } from './folders.ts'
import { cupsBackFrom } from './gun/back.ts'
import { cupsAt, cupsPlacedBy, isOfAdding } from './panel/placed.ts'
import { isSprayedBefore, pressedAt } from './panel/spread.ts'
import { around, type FolderOf, refold, step, until } from './refold.ts'
import type { Folded } from './replay.ts'
import { isWithin } from './spans.ts'
import { type State, thingOf, withThing } from './state.ts'
import type { Thing } from './things.ts'

/** Where an entry belongs among entries in order of occurrence. */
function placeOf(entries: readonly Draft[], entry: Draft): number {
  let place = entries.length
  while (place > 0 && byOccurrence(entries[place - 1] as Draft, entry) > 0) place -= 1
  return place
}

/** What a zone, a gun and a place were set up with is never evicted, nor that a zone was found clear. */
export const SETS_UP: readonly string[] = [
  'ZoneSaved',
  'ZoneCleared',
  'ZonePurged',
  'AirMoversSet',
  'DayRangeSet',
  'GunSaved',
  'LevelCommissioned',
]

/** Whether an entry belongs to what is held of a thing. A void goes with the entry that it voids. */
function isHeld({ heldMs, entries }: Thing, entry: Draft): boolean {
  if (heldMs === undefined || SETS_UP.includes(entry.type)) return true
  const isVoidOfHeld =
    entry.type === 'EntryVoided' && entries.some((e) => e.id === entry.data.entry)
  return isVoidOfHeld || isWithin(heldMs, entry.at)
}

/** Lists of entries without a void: a zone and a gun have hundreds, each of which would be asked for every new one. */
const plain = new WeakSet<readonly Draft[]>()
const isVoid = ({ type }: Draft): boolean => type === 'EntryVoided'

function isPlain(entries: readonly Draft[]): boolean {
  if (plain.has(entries)) return true
  if (entries.some(isVoid)) return false
  plain.add(entries)
  return true
}

const isVoidedIn = (entries: readonly Draft[], id: string): boolean =>
  !isPlain(entries) && entries.some((e) => isVoid(e) && e.data.entry === id)

/** A list with one more entry at its place. */
function withNext(entries: readonly Draft[], place: number, entry: Draft): readonly Draft[] {
  const next = entries.toSpliced(place, 0, entry)
  if (!isVoid(entry) && plain.has(entries)) plain.add(next)
  return next
}

function take<K extends Kind>(
  state: State,
  { kind }: ThingRef<K>,
  thing: Thing<K> | undefined,
  entry: Draft,
): Thing<K> {
  const by = around(state)
  if (!thing) return refold(kind, [entry], by)
  if (!isHeld(thing, entry)) return thing
  const folder: FolderOf<K> = folders[kind]
  const place = placeOf(thing.entries, entry)
  if (thing.entries[place - 1]?.id === entry.id) return thing
  const isVoided = isVoidedIn(thing.entries, entry.id)
  const entries = withNext(thing.entries, place, entry)
  const isPlainEnd = place === thing.entries.length && !isVoid(entry) && !isVoided
  const last = isPlainEnd ? (folder.order ? folder.order.last(thing, entry, by) : entry) : undefined
  const kept = thing.heldMs === undefined ? {} : { heldMs: thing.heldMs }
  return last
    ? { ...step(kind, thing, last, by), entries, ...kept }
    : { ...refold(kind, entries, by), ...kept }
}

const foldInto = <K extends Kind>(state: State, ref: ThingRef<K>, entry: Draft): State =>
  withThing(state, ref, take(state, ref, thingOf(state, ref), entry))

/** A thing folded again with what is known by now of the things that its entries name. */
function refreshed<K extends Kind>(state: State, ref: ThingRef<K>): State {
  const thing = thingOf(state, ref)
  if (!thing?.entries.some(looksAround)) return state
  const { heldMs, entries } = thing
  const again = refold(ref.kind, entries, around(state))
  return withThing(state, ref, { ...again, ...(heldMs === undefined ? {} : { heldMs }) })
}

/** The things that took something from a cup: coats and guns by the cup's own entries, and the cups poured from it. */
export function takersOf(entries: readonly Draft[]): ThingRef[] {
  const others = entries
    .filter(looksAround)
    .flatMap(streamsOf)
    .filter((ref) => ref.kind !== 'cup')
  const children = entries.flatMap(({ data }): ThingRef[] =>
    typeof data.into === 'string' ? [{ kind: 'cup', id: data.into }] : [],
  )
  const all = [...others, ...children].map((ref) => [`${ref.kind} ${ref.id}`, ref] as const)
  return [...new Map(all).values()]
}

/** The state after something of a cup became known: what took from it before is folded again. */
function passedOn(state: State, entries: readonly Draft[], seen: readonly string[]): State {
  return takersOf(entries).reduce((next, ref) => {
    if (ref.kind === 'cup') return anew(next, ref.id, seen)
    const whole = refreshed(next, ref)
    if (ref.kind !== 'gun') return whole
    return cupsBackFrom(whole, ref.id).reduce((s, cup) => anew(s, cup, seen), whole)
  }, state)
}

/** The state with a cup folded again, and with it what took from that. */
function anew(state: State, id: string, seen: readonly string[] = []): State {
  const ref = { kind: 'cup', id } as const
  const cup = seen.includes(id) ? undefined : thingOf(state, ref)
  return cup ? passedOn(refreshed(state, ref), cup.entries, [...seen, id]) : state
}

/** What says only where a cup was used. */
const USES: readonly string[] = ['CoatStarted', 'CoatContinued', 'CoatFinished', 'GunLoaded']

/**
 * A use that takes a cup nowhere else leaves its clocks the very same. One without clocks has a place all the same, and
 * does not say where it was before.
 */
const isWhereItWas = (cup: CupContext, before: CupContext | undefined): boolean =>
  cup.clocks === before?.clocks && cup.zone === before.zone && cup.isUsed === before.isUsed

/**
 * The entries of a cup that may have taken something else from it before an entry was folded: a cup is
 * looked up with all that happened to it up to an instant, so that those of the same instant are among them.
 */
function laterIn({ entries, context }: Thing<'cup'>, entry: Draft, before?: Thing<'cup'>) {
  const mayHaveMoved = context.clocks.length === 0 && entries.at(-1)?.id !== entry.id
  if (USES.includes(entry.type) && !mayHaveMoved && isWhereItWas(context, before?.context))
    return []
  if (entry.type === 'EntryVoided') return entries
  // A finish of a pass takes what its cup held at the press, wherever it was spread to.
  const since = entries.filter((e) => pressedAt(e) >= entry.at)
  // Itself it has just been folded with all of them: a label of the same instant is no reason to fold a whole gun again.
  const mayHaveTaken = (e: Draft) => 'into' in e.data || (e.id !== entry.id && looksAround(e))
  return since.some(mayHaveTaken) ? since : []
}

/**
 * A sheet is known to the things that name it from its first version on, and a limit of the shop to
 * what was pressed while it was in force, whenever they are sent.
 */
function ofAllThings(state: State): State {
  const refs = (['cup', 'panel'] as const).flatMap((kind) =>
    Object.keys(state.things[kind]).map((id): ThingRef => ({ kind, id })),
  )
  return refs.reduce(refreshed, state)
}

const ofCups = (state: State, cups: readonly string[]): State =>
  cups.reduce((next, cup) => anew(next, cup), state)

/** What took something of a cup, after an entry of the cup was folded. */
function ofCup(state: State, id: string, entry: Draft, before: State): State {
  const ref: ThingRef<'cup'> = { kind: 'cup', id }
  const cup = thingOf(state, ref)
  if (!cup) return state
  const whole = passedOn(state, laterIn(cup, entry, thingOf(before, ref)), [id])
  // What came out of a gun since is of its cups as they were then, however long before they were loaded.
  const guns = new Set(cup.entries.flatMap(({ gun, data }) => (gun && 'load' in data ? [gun] : [])))
  return [...guns].reduce((next, gun) => ofCups(next, cupsBackFrom(next, gun, entry)), whole)
}

/** How long a panel takes to spray is known to the others of its passes once it is added. */
function ofPasses(state: State, id: string): State {
  if ((thingOf(state, { kind: 'panel', id })?.entries.length ?? 0) < 2) return state
  return Object.entries(state.things.panel)
    .filter(([, { entries }]) => entries.some((e) => isSprayedBefore(e, id)))
    .reduce((next, [other]) => refreshed(next, { kind: 'panel', id: other }), state)
}

/**
 * The state with one more entry. History: it never argues, never reads a clock. Entries may come in
 * any order; the same entries give the same state.
 * @param entry from the log, or a draft that an offline kiosk folds provisionally
 */
export function fold(state: State, entry: Draft | Entry): State {
  const refs = streamsOf(entry)
  let next = state
  for (const ref of refs) next = foldInto(next, ref, entry)
  for (const ref of refs) {
    const isLimit =
      ref.kind === 'settings' && ('limits' in entry.data || entry.type === 'EntryVoided')
    if (ref.kind === 'sheet' || isLimit) next = ofAllThings(next)
    if (ref.kind === 'panel' && isOfAdding(entry)) next = ofPasses(next, ref.id)
    if (ref.kind === 'panel') next = ofCups(next, cupsPlacedBy(next, entry))
    if (ref.kind === 'gun') next = ofCups(next, cupsBackFrom(next, ref.id, entry))
    if (ref.kind === 'cup') next = ofCup(next, ref.id, entry, state)
  }
  if (!('position' in entry) || entry.position <= state.head) return next
  return {
    ...next,
    head: entry.position,
    headHash: entry.hash,
    recordedAt: Math.max(state.recordedAt, entry.recordedAt),
  }
}

/**
 * Whether other entries of the same millisecond are folded after an entry that arrives after them,
 * and a thing then has another state than if the entry had come last, or does not take it.
 */
export function isOvertaken(state: State, entry: Draft): boolean {
  return streamsOf(entry).some((ref) => isOvertakenIn(state, ref, entry))
}

function isOvertakenIn<K extends Kind>(state: State, ref: ThingRef<K>, entry: Draft): boolean {
  const thing = thingOf(state, ref)
  const next = thing?.entries[placeOf(thing.entries, entry)]
  if (!thing || next?.at !== entry.at || entry.type === 'EntryVoided') return false
  const where = ({ value, notTaken }: Folded) => JSON.stringify([value, notTaken.length])
  const last = step(ref.kind, thing, entry, around(state))
  return where(take(state, ref, thing, entry)) !== where(last)
}

/**
 * A thing folded from all its entries in the log; undefined where none of these is one of it.
 * @param state where its entries may look up what they name
 */
export function foldThing<K extends Kind>(
  state: State,
  ref: ThingRef<K>,
  entries: readonly Draft[],
): Thing<K> | undefined {
  // Those that it holds are its own: of thousands, only what is new is asked.
  const held = new Set<Draft>(thingOf(state, ref)?.entries)
  const isOwn = (e: Draft) => streamsOf(e).some((r) => r.kind === ref.kind && r.id === ref.id)
  const own = entries.filter((e) => held.has(e) || isOwn(e)).toSorted(byOccurrence)
  return own.length === 0 ? undefined : refold(ref.kind, own, around(state))
}

/** The state with a thing folded again from those of its entries that are given. */
export function reloaded<K extends Kind>(
  state: State,
  ref: ThingRef<K>,
  entries: readonly Draft[],
): State {
  const thing = foldThing(state, ref, entries)
  const heldMs = thingOf(state, ref)?.heldMs
  if (!thing) return state
  const next = withThing(state, ref, { ...thing, ...(heldMs ? { heldMs } : {}) })
  if (ref.kind === 'panel') return ofCups(ofPasses(next, ref.id), cupsAt(thing.entries))
  return ref.kind === 'cup' ? passedOn(next, thing.entries, [ref.id]) : next
}

/**
 * A thing as it was just before an instant: what a late fact is judged by.
 * @returns undefined for a thing that had no entries by then, or none that are still held
 */
export function thingBefore<K extends Kind>(
  state: State,
  ref: ThingRef<K>,
  at: number,
): Thing<K> | undefined {
  const thing = thingOf(state, ref)
  if (!thing || (thing.heldMs && !isWithin(thing.heldMs, at))) return undefined
  const isCurrent = (thing.entries.at(-1)?.at ?? 0) <= at
  if (isCurrent) return thing
  return refold(
    ref.kind,
    until(thing.entries, (e) => e.at <= at),
    around(state),
  )
}
