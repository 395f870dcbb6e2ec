import type { CHECKS, Defect, Layers } from '../../machines/trace/causes.ts'
import type { DeviationKind, Disposition } from '../../machines/trace/deviations.ts'
import type { Strength } from '../../machines/trace/rank.ts'
import type { Signal } from '../../machines/trace/signals.ts'

/** What the Trace screen says, in every language. */

type Of<K extends string> = Record<K, string>
export type TraceWords = {
  readonly [K in
    | 'title'
    | 'history'
    | 'reading'
    | 'here'
    | 'unknown'
    | 'nothing'
    | 'chart'
    | 'table'
    | 'zoomIn'
    | 'zoomOut'
    | 'fit'
    | 'earlier'
    | 'later'
    | 'nextDeviation'
    | 'lastDeviation'
    | 'air'
    | 'cups'
    | 'guns'
    | 'bells'
    | 'taken'
    | 'notRecorded'
    | 'estimated'
    | 'outside'
    | 'override'
    | 'allowed'
    | 'actual'
    | 'tooEarly'
    | 'overEnd'
    | 'when'
    | 'where'
    | 'what'
    | 'numbers'
    | 'marks'
    | 'deviations'
    | 'noDeviations'
    | 'causes'
    | 'pickDefect'
    | 'pickPanel'
    | 'undecided'
    | 'notProven'
    | 'speaksFor'
    | 'against'
    | 'missing'
    | 'decide'
    | 'remedy'
    | 'show'
    | 'together'
    | 'notVisible'
    | 'notVisibleWhy'
    | 'moot'
    | 'done'
    | 'leftOut'
    | 'mask'
    | 'sheetFirst'
    | 'voided'
    | 'voids'
    | 'moment'
    | 'momentNow'
    | 'knownThen'
    | 'cure'
    | 'reason'
    | 'legend'
    | 'noCause'
    | 'others']: string
} & {
  readonly of: (actual: string, wanted: string) => string
  readonly ratio: (ratio: string) => string
  readonly coat: (stage: string, n: number) => string
  readonly waited: (actual: string, wanted: string) => string
  readonly within: (actual: string, most: string) => string
  readonly limit: (value: string, limit: string) => string
  readonly neverDry: (actual: string) => string
  readonly excess: (by: string) => string
  readonly notSo: (name: string) => string
  readonly late: (time: string) => string
  readonly cup: (id: string) => string
  readonly missingLayers: (names: string) => string
  readonly recorded: (share: string) => string
  readonly strength: Of<Strength>
  readonly kinds: Of<DeviationKind>
  readonly dispositions: Of<Disposition>
  readonly layers: Of<Layers>
  readonly sides: Of<'low' | 'high' | 'humid'>
  /** What the defect looks like. */
  readonly defects: Of<Defect>
  readonly remedies: Of<Defect>
  readonly checks: Of<(typeof CHECKS)[number]>
  readonly signals: Of<Signal>
}
