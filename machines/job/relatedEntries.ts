import type { ThingRef } from '../catalog.ts'
import { byOccurrence, type Draft } from '../envelope.ts'

/**
 * The entries that a job's history needs besides its own: the cups that its coats were sprayed from or
 * that were mixed for it as well as for another job, the cups that those were poured from, and what was in its guns. Neither a cup from stock nor a gun
 * names a job, nor does what was said of a panel before that was known.
 */

/** What made and ended a cup. Its coats are entries of this job, or of another one. */
const OF_CUP = [
  ...['CupMixed', 'CupPoured', 'GunPouredBack', 'CupMoved', 'CupLabelPrinted', 'CupEmptied'],
]
const OF_GUN = ['GunLoaded', 'GunRinsed', 'GunCleaned']
const COATS = ['CoatStarted', 'CoatContinued', 'CoatFinished']

/** Of these types, or the void of such an entry. */
const isOf = (types: readonly string[], { type, data }: Draft): boolean =>
  types.includes(type === 'EntryVoided' ? String(data.type) : type)

/** The cups that something in a cup came from: poured, or back from a gun. */
function parentsIn({ type, data }: Draft): string[] {
  const from = type === 'GunPouredBack' ? data.cups : data.parents
  return Array.isArray(from) ? from.map(String) : []
}

/** A gun's entries from the last cleaning before a coat to the next one after it: all that could be in that coat. */
function aroundUses<E extends Draft>(ofGun: readonly E[], uses: readonly number[]): E[] {
  const cleanedAt = ofGun.filter((e) => e.type === 'GunCleaned').map((e) => e.at)
  const spans = uses.map((at) => ({
    from: Math.max(0, ...cleanedAt.filter((cleaned) => cleaned <= at)),
    to: Math.min(Number.POSITIVE_INFINITY, ...cleanedAt.filter((cleaned) => cleaned > at)),
  }))
  return ofGun.filter(({ at }) => spans.some(({ from, to }) => at >= from && at <= to))
}

/** The cups that a job's entries name, then the cups poured into those, and so on. */
function cupsOf<E extends Draft>(named: readonly E[], entriesOf: EntriesOf<E>): ThingRef[] {
  const ids = [...new Set(named.flatMap(({ cup }) => cup ?? []))]
  // The list grows while it is walked; each parent is added once.
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

/** A thing's entries, or undefined where they have not been read yet. */
export type EntriesOf<E> = (ref: ThingRef) => readonly E[] | undefined

/**
 * A job's own entries and the related ones, in the order of occurrence.
 * @param own those that carry the job's id
 * @param entriesOf all entries of a cup or gun
 * @returns `missing`: the things whose entries were not read yet; read them and call again
 */
export function relatedEntries<E extends Draft>(
  own: readonly E[],
  entriesOf: EntriesOf<E>,
): { readonly entries: E[]; readonly missing: ThingRef[] } {
  const awaited = own.flatMap((e): ThingRef[] =>
    e.type === 'PanelAdded' && e.data.isAwaited === true && e.panel !== undefined
      ? [{ kind: 'panel', id: e.panel }]
      : [],
  )
  const ofPanels = awaited.flatMap((ref) => entriesOf(ref) ?? [])
  const coats = [...own, ...ofPanels].filter((e) => COATS.includes(e.type))
  const shared = own.filter((e) => isOf(['CupShared'], e))
  const cups = cupsOf([...coats, ...shared], entriesOf)
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
  const all = new Map([...own, ...ofPanels, ...ofCups, ...ofGuns].map((entry) => [entry.id, entry]))
  return {
    entries: [...all.values()].sort(byOccurrence),
    missing: [...awaited, ...cups, ...guns].filter((ref) => entriesOf(ref) === undefined),
  }
}
