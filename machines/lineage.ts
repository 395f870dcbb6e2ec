/**
 * Which records of things were made of which others by putting one thing in. What was found out of one need then not be
 * found again of the next: with every entry all that a shop holds would be looked through several times.
 */

type Journal = { readonly root: object; readonly ids: string[] }
/** What was put into the root of a journal until it was this record: its first so many ids. */
type Place = { readonly journal: Journal; readonly count: number }
const places = new WeakMap<object, Place>()

/** A journal of more begins anew: it keeps its root, and to go through so many ids costs as much as to look through a record. */
const MOST = 64

/** Notes that a record was made of another one by putting a thing in. */
export function noteStep(made: object, from: object, id: string): void {
  const place = places.get(from)
  // Where the other one was already gone on from, what is made now is of another line.
  const goesOn = place && place.count === place.journal.ids.length && place.count < MOST
  const journal = goesOn ? place.journal : { root: from, ids: [] }
  if (!goesOn) places.set(from, { journal, count: 0 })
  journal.ids.push(id)
  places.set(made, { journal, count: journal.ids.length })
}

/** What was put in between two records; null where the later one was not made of the earlier one, or is far from it. */
export function putBetween(earlier: object, later: object): readonly string[] | null {
  const [from, to] = [places.get(earlier), places.get(later)]
  const isLater = from && to && from.journal === to.journal && from.count <= to.count
  return isLater ? to.journal.ids.slice(from.count, to.count) : null
}

/** What is known of records, and so of what was made of them. */
export type Findings<R extends object, T> = {
  /** What was found last of this record or of one that it was made of, and what was put in since; null where nothing was. */
  readonly since: (record: R) => { readonly was: T; readonly ids: readonly string[] } | null
  readonly keep: (record: R, found: T) => T
}

/** A place for what is found of records of one kind. What is kept goes with its record. */
export function findings<R extends object, T>(): Findings<R, T> {
  const all = new WeakMap<object, { readonly found: T }>()
  const last = new WeakMap<Journal, { readonly found: T; readonly count: number }>()
  return {
    since(record) {
      const own = all.get(record)
      if (own) return { was: own.found, ids: [] }
      const place = places.get(record)
      if (!place) return null
      const { journal, count } = place
      const ofRoot = all.get(journal.root)
      const known = last.get(journal) ?? (ofRoot && { ...ofRoot, count: 0 })
      if (!known || known.count > count) return null
      return { was: known.found, ids: journal.ids.slice(known.count, count) }
    },
    keep(record, found) {
      all.set(record, { found })
      const place = places.get(record)
      if (place) last.set(place.journal, { found, count: place.count })
      return found
    },
  }
}
