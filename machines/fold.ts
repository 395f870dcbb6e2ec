import { type Kind, streamsOf, type ThingRef } from './catalog.ts'
import { byOccurrence, type Draft, type Entry } from './envelope.ts'
import { folders } from './folders.ts'
import type { Folded, Folder } from './replay.ts'
import { FOREVER_MS, isWithin, type Span } from './spans.ts'
import { type State, thingOf, withThing } from './state.ts'
import type { ContextOf, Thing, ValueOf } from './things.ts'

export type FolderOf<K extends Kind> = Folder<ContextOf<K>, ValueOf<K>>

/** The ids that a thing's voids name. */
function voidedIn(entries: readonly Draft[]): Set<unknown> {
  return new Set(entries.filter((e) => e.type === 'EntryVoided').map((e) => e.data.entry))
}

/** The entries of a thing that count: neither voided nor voids. */
export function liveIn(entries: readonly Draft[]): Draft[] {
  const voided = voidedIn(entries)
  return entries.filter((e) => e.type !== 'EntryVoided' && !voided.has(e.id))
}

/** A thing from its entries in order, as if the voided ones had never been. */
function refold<K extends Kind>(folder: FolderOf<K>, entries: readonly Draft[]): Thing<K> {
  const folded = liveIn(entries).reduce((before, e) => folder.step(before, e), folder.blank)
  return { ...folded, entries }
}

/** Where an entry belongs among entries in order of occurrence. */
function placeOf(entries: readonly Draft[], entry: Draft): number {
  let place = entries.length
  while (place > 0 && byOccurrence(entries[place - 1] as Draft, entry) > 0) place -= 1
  return place
}

/** What a zone, a gun and a place were set up with is never evicted. */
const SETS_UP: readonly string[] = ['ZoneSaved', 'GunSaved', 'LevelCommissioned']

/** Whether an entry belongs to what is held of a thing. A void goes with the entry that it voids. */
function isHeld({ heldMs, entries }: Thing, entry: Draft): boolean {
  if (heldMs === undefined || SETS_UP.includes(entry.type)) return true
  const isVoidOfHeld =
    entry.type === 'EntryVoided' && entries.some((e) => e.id === entry.data.entry)
  return isVoidOfHeld || isWithin(heldMs, entry.at)
}

/** A thing that lost nothing is like one that was never evicted from: a restart gives the same state. */
const isAllTime = ([first]: readonly Span[]): boolean =>
  first?.fromMs === 0 && first.toMs === FOREVER_MS

/** A thing that holds only some times of its past, as if what is of other times had never been. */
export function withHeld<K extends Kind>(
  { kind }: ThingRef<K>,
  thing: Thing<K>,
  heldMs: readonly Span[],
): Thing<K> {
  const isOfThen = (e: Draft) => SETS_UP.includes(e.type) || isWithin(heldMs, e.at)
  const kept = new Set<unknown>()
  for (const e of thing.entries) if (e.type !== 'EntryVoided' && isOfThen(e)) kept.add(e.id)
  const entries = thing.entries.filter((e) => kept.has(e.id) || kept.has(e.data.entry))
  const isSame = entries.length === thing.entries.length
  if (isSame && thing.heldMs === undefined && isAllTime(heldMs)) return thing
  const folder: FolderOf<K> = folders[kind]
  return { ...(isSame ? thing : refold(folder, entries)), heldMs }
}

function take<K extends Kind>(
  folder: FolderOf<K>,
  thing: Thing<K> | undefined,
  entry: Draft,
): Thing<K> {
  if (!thing) return refold(folder, [entry])
  if (!isHeld(thing, entry)) return thing
  const place = placeOf(thing.entries, entry)
  if (thing.entries[place - 1]?.id === entry.id) return thing
  const entries = thing.entries.toSpliced(place, 0, entry)
  const isPlainEnd =
    place === thing.entries.length &&
    entry.type !== 'EntryVoided' &&
    !voidedIn(thing.entries).has(entry.id)
  const kept = thing.heldMs === undefined ? {} : { heldMs: thing.heldMs }
  return isPlainEnd
    ? { ...folder.step(thing, entry), entries, ...kept }
    : { ...refold(folder, entries), ...kept }
}

const foldInto = <K extends Kind>(state: State, ref: ThingRef<K>, entry: Draft): State =>
  withThing(state, ref, take(folders[ref.kind], thingOf(state, ref), entry))

/**
 * The state with one more entry. History: it never argues, never reads a clock. Entries may come in
 * any order; the same entries give the same state.
 * @param entry from the log, or a draft that an offline kiosk folds provisionally
 */
export function fold(state: State, entry: Draft | Entry): State {
  let next = state
  for (const ref of streamsOf(entry)) {
    next = foldInto(next, ref, entry)
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
  const folder: FolderOf<K> = folders[ref.kind]
  const where = ({ value, notTaken }: Folded) => JSON.stringify([value, notTaken.length])
  return where(take(folder, thing, entry)) !== where(folder.step(thing, entry))
}

/** A thing folded from all its entries in the log; undefined where none of these is one of it. */
export function foldThing<K extends Kind>(
  ref: ThingRef<K>,
  entries: readonly Draft[],
): Thing<K> | undefined {
  const own = entries
    .filter((e) => streamsOf(e).some((r) => r.kind === ref.kind && r.id === ref.id))
    .toSorted(byOccurrence)
  return own.length === 0 ? undefined : refold(folders[ref.kind], own)
}

/** The state with a thing folded again from those of its entries that are given. */
export function reloaded<K extends Kind>(
  state: State,
  ref: ThingRef<K>,
  entries: readonly Draft[],
): State {
  const thing = foldThing(ref, entries)
  const heldMs = thingOf(state, ref)?.heldMs
  return thing ? withThing(state, ref, { ...thing, ...(heldMs ? { heldMs } : {}) }) : state
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
  // A void counts whatever its time: the mistake was never there.
  const entries = thing.entries.filter((e) => e.at <= at || e.type === 'EntryVoided')
  return refold(folders[ref.kind], entries)
}
