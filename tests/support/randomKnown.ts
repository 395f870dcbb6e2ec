import { byOccurrence, type Draft } from '../../machines/envelope.ts'
import { fold } from '../../machines/fold.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { emptyState, type State } from '../../machines/state.ts'
import { heatsKnown } from './randomHeat.ts'
import type { Air, Range } from './randomIntervals.ts'

/**
 * What the log knew, for the second judge: entries that nobody took back, in the order of their happening.
 */
export class Known {
  readonly live: readonly Draft[]
  #heats: ReturnType<typeof heatsKnown> | undefined

  constructor(entries: readonly Draft[]) {
    const voids = new Set(
      entries.filter((e) => e.type === 'EntryVoided').map((e) => String(e.data.entry)),
    )
    this.live = entries
      .filter((e) => e.type !== 'EntryVoided' && !voids.has(e.id))
      .toSorted(byOccurrence)
  }

  /** Entries of some types about a thing, up to an instant. */
  about(
    key: 'panel' | 'cup' | 'gun' | 'zone',
    id: string,
    types: string,
    until = Infinity,
  ): Draft[] {
    const names = types.split(' ')
    return this.live.filter((e) => e[key] === id && e.at <= until && names.includes(e.type))
  }

  /** Without the ends of passes that were pressed later, though they were spread to before it. */
  pressedBy(at: number): Known {
    return new Known(this.live.filter((e) => Number(e.data.passEndsAt ?? at) <= at))
  }

  /** All heat that was known of, of every panel. */
  get heats() {
    this.#heats ??= heatsKnown(this)
    return this.#heats
  }

  readings(zone: string): Air[] {
    return this.about('zone', zone, 'ClimateRead').map((e) => ({
      at: e.at,
      airC: Number(e.data.airC),
      rh: Number(e.data.rh),
    }))
  }

  ranges(zone: string): Range[] {
    return this.about('zone', zone, 'DayRangeSet').map((e) => ({
      ...(e.data as Omit<Range, 'at'>),
      at: e.at,
    }))
  }

  /** The sheet that was in force at an instant, or the first that ever was. */
  sheet(id: string | undefined, at: number): Sheet | undefined {
    const saved = this.live.filter((e) => e.type === 'SheetSaved' && e.sheet === id)
    const entry = saved.findLast((e) => e.at <= at) ?? saved[0]
    return entry?.data.sheet as Sheet | undefined
  }

  /** The states of all panels at an instant, with what their coats are of and the shop's limits. */
  stateAt(at: number): State {
    const isOfAll = ({ type }: Draft) => type === 'SheetSaved' || type === 'SettingsChanged'
    const ofPanels = this.live.filter(
      (e) => (e.at <= at && (e.panel ?? e.cup) !== undefined) || isOfAll(e),
    )
    return ofPanels.reduce(fold, emptyState('TESTSHOP', 'h0'))
  }
}
