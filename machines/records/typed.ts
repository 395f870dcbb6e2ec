import type { Draft } from '../envelope.ts'
import { withoutReplaced } from './upkeep.ts'

/** What was typed in and may be a mistake. */
export type Typed = {
  readonly entry: string
  readonly type: 'TrainingRecorded' | 'FilterServiced' | 'SolventUsed'
  /** When it was done, UTC ms. */
  readonly at: number
  /** Who was trained, which zone's filters, which solvent. */
  readonly name: string
  /** The kind of training or of work; null for solvent. */
  readonly kind: string | null
  readonly ml: number | null
}

/** As many as a page lists to be taken back. */
const TYPED_MOST = 50

/**
 * What was typed in, the last first, of entries that count.
 * @param entries of training, filters and solvent
 */
export function typedIn(entries: readonly Draft[]): Typed[] {
  const text = (value: unknown) => (typeof value === 'string' ? value : null)
  return withoutReplaced(entries)
    .flatMap(({ id, type, at, zone = '', data }): Typed[] => {
      const doneAt = typeof data.doneMs === 'number' ? data.doneMs : at
      const of = { entry: id, at: doneAt, ml: null }
      if (type === 'TrainingRecorded')
        return [{ ...of, type, name: text(data.name) ?? '', kind: text(data.kind) }]
      if (type === 'FilterServiced') return [{ ...of, type, name: zone, kind: text(data.what) }]
      if (type !== 'SolventUsed') return []
      const ml = typeof data.ml === 'number' ? data.ml : null
      return [{ ...of, type, name: text(data.solvent) ?? '', kind: null, ml }]
    })
    .toReversed()
    .toSorted((a, b) => b.at - a.at)
    .slice(0, TYPED_MOST)
}
