/** What the timeline draws and its table says: one list, so that both have the same. */

export type Flag =
  | 'outside'
  | 'override'
  | 'estimated'
  | 'notRecorded'
  | 'voided'
  | 'early'
  | 'late'
  | 'under'
export type Mark = {
  readonly row: string
  readonly kind:
    | 'air'
    | 'dew'
    | 'movers'
    | 'gap'
    | 'band'
    | 'wait'
    | 'coat'
    | 'cure'
    | 'cup'
    | 'use'
    | 'past'
    | 'gun'
    | 'bell'
    | 'work'
    | 'void'
    | 'later'
  readonly from: number
  /** Null for a moment. */
  readonly to: number | null
  readonly entry: string | null
  /** The entry that says when it was over, where that is another. */
  readonly end?: string | null
  /** When the log came to know it, where that was late, UTC ms. */
  readonly recordedAt?: number
  /** What it is, for the words: a stage and its coat, a type of entry, a kind of bell, an id. */
  readonly what: string
  readonly n?: number
  /** Of a coat: how long it waited and what was wanted, ms; of air °C and share; of what was told later when. */
  readonly numbers?: readonly (number | null)[]
  readonly flags: readonly Flag[]
}

export type Row = {
  readonly id: string
  readonly kind: 'air' | 'dew' | 'panel' | 'cup' | 'gun' | 'bells' | 'taken' | 'later'
  /** What a zone, a panel or a gun is called; the id of a cup. */
  readonly name: string
}
export type Chart = {
  readonly rows: readonly Row[]
  readonly marks: readonly Mark[]
  readonly from: number
  readonly to: number
}
