import type { ThingRef } from '../catalog.ts'
import { byOccurrence, type Draft } from '../envelope.ts'

/**
 * What bears on a job beside its own entries: the cups that its coats were sprayed from with all
 * that these were poured of, and what was in its guns. A cup from stock and a gun carry no job.
 */

/** What made and ended a cup. Its coats are the job's own, or another job's. */
const OF_CUP = ['CupMixed', 'CupPoured', 'CupLabelPrinted', 'CupEmptied']
const OF_GUN = ['GunLoaded', 'GunCleaned']
const COATS = ['CoatStarted', 'CoatContinued', 'CoatFinished']

/** Of these types, or the void of such an entry. */
const isOf = (types: readonly string[], { type, data }: Draft): boolean =>
  types.includes(type === 'EntryVoided' ? String(data.type) : type)

const parentsIn = ({ data }: Draft): string[] =>
  Array.isArray(data.parents) ? data.parents.map(String) : []

/** A gun from its last cleaning before a coat to its next one after: what could be in that coat. */
function aroundUses<E extends Draft>(ofGun: readonly E[], uses: readonly number[]): E[] {
  const cleanedAt = ofGun.filter((e) => e.type === 'GunCleaned').map((e) => e.at)
  const spans = uses.map((at) => ({
    from: Math.max(0, ...cleanedAt.filter((cleaned) => cleaned <= at)),
    to: Math.min(Number.POSITIVE_INFINITY, ...cleanedAt.filter((cleaned) => cleaned > at)),
  }))
  return ofGun.filter(({ at }) => spans.some(({ from, to }) => at >= from && at <= to))
}

/** Cups by which a job's coats were sprayed, then their parents, then theirs. */
function cupsOf<E extends Draft>(coats: readonly E[], entriesOf: EntriesOf<E>): ThingRef[] {
  const ids = [...new Set(coats.flatMap(({ cup }) => cup ?? []))]
  // A list that grows while it is walked: each parent once.
  for (const id of ids) {
    const parents = (entriesOf({ kind: 'cup', id }) ?? []).flatMap((e) =>
      e.cup === id ? parentsIn(e) : [],
    )
    ids.push(
      ...parents.filter((parent, i) => !ids.includes(parent) && parents.indexOf(parent) === i),
    )
  }
  return ids.map((id) => ({ kind: 'cup', id }))
}

/** A thing's entries as far as they are at hand; undefined where they were not asked for yet. */
export type EntriesOf<E> = (ref: ThingRef) => readonly E[] | undefined

/**
 * A job's own entries and those that bear on it, in the order of occurrence.
 * @param own those that carry the job's id
 * @param entriesOf all entries of a cup or gun
 * @returns `missing`: the things that were not at hand; with them it is asked again
 */
export function bearingOn<E extends Draft>(
  own: readonly E[],
  entriesOf: EntriesOf<E>,
): { readonly entries: E[]; readonly missing: ThingRef[] } {
  const coats = own.filter((e) => COATS.includes(e.type))
  const cups = cupsOf(coats, entriesOf)
  const guns = [...new Set(coats.flatMap(({ gun }) => gun ?? []))].map((id) => ({
    kind: 'gun' as const,
    id,
  }))
  const ofCups = cups.flatMap((ref) => (entriesOf(ref) ?? []).filter((e) => isOf(OF_CUP, e)))
  const ofGuns = guns.flatMap((ref) =>
    aroundUses(
      (entriesOf(ref) ?? []).filter((e) => isOf(OF_GUN, e)),
      coats.filter(({ gun }) => gun === ref.id).map(({ at }) => at),
    ),
  )
  const all = new Map([...own, ...ofCups, ...ofGuns].map((entry) => [entry.id, entry]))
  return {
    entries: [...all.values()].sort(byOccurrence),
    missing: [...cups, ...guns].filter((ref) => entriesOf(ref) === undefined),
  }
}
