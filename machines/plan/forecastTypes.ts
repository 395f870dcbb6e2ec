import type { CureMode } from '../panel/context.ts'
import type { SprayedStage, Stage } from '../sheet/schema.ts'
import type { LearnedFigures } from './learning.ts'

/** What a forecast is made from, and what it says. Times are UTC ms, lengths ms. */

/** What an act of the plan waited for last. */
export const WAITS = [
  'now',
  'flash',
  'look',
  'window',
  'cleaner',
  'film',
  'hot',
  'person',
  'gun',
  'cup',
  'heat',
  'wet',
  'place',
  'together',
  'closed',
] as const
export type Wait = (typeof WAITS)[number]

/** Something that is to be done, or to be waited for, on one panel. */
export type PlannedAct = {
  readonly panel: string
  readonly job: string
  readonly kind: 'hand' | 'abrade' | 'coat' | 'cure'
  readonly step: number
  readonly stage: Stage
  /** Of a coat: which of its step, from 1, of how many that are planned. */
  readonly coat?: { readonly n: number; readonly of: number }
  readonly work?: string
  readonly mode?: CureMode
  readonly sheet?: string
  readonly gun?: string
  readonly zone: string
  readonly fromMs: number
  readonly toMs: number
  /** Since when the painter mixes or changes the gun for it. */
  readonly setUpFromMs?: number
  /** The gun is cleaned or rinsed before it. */
  readonly isGunChanged?: true
  /** A fresh cup is mixed for it. */
  readonly isFreshCup?: true
  /** It is going on now. */
  readonly isRunning?: true
  readonly wait: Wait
  /** Until when the coat may go on without abrading; absent without a window. */
  readonly shutsAtMs?: number
  /** What it takes, as far as sheet and area say it. */
  readonly volumeMl?: number
}

/** Why a panel or a job cannot be planned, and what would make it possible. */
export type Cannot =
  | { readonly code: 'noPainter' }
  | {
      readonly code: 'airOutside'
      readonly airC: number
      readonly rh: number
      readonly minC: number | null
      readonly maxC: number | null
      readonly maxRh: number | null
      readonly zone: string
      readonly sheet: string
    }
  | {
      readonly code: 'dewPoint'
      readonly marginC: number
      readonly leastC: number
      readonly zone: string
    }
  | { readonly code: 'tooColdToCure'; readonly zone: string; readonly sheet: string }
  | { readonly code: 'neverFlashes'; readonly zone: string; readonly sheet: string }
  | { readonly code: 'windowShut'; readonly why: string; readonly sheet: string }
  | {
      readonly code: 'windowShort'
      readonly windowMin: number
      readonly needsMin: number
      readonly sheet: string
    }
  | {
      readonly code: 'cupShort'
      readonly lastsMin: number
      readonly needsMin: number
      readonly sheet: string
    }
  | { readonly code: 'noCure'; readonly sheet: string | null }
  | { readonly code: 'heatFlashUnknown'; readonly sheet: string | null }
  | { readonly code: 'neverCures' }
  | {
      /** The shop stops at the gun what no card is near enough for; no value where none was measured. */
      readonly code: 'colourOff'
      readonly limit: number
      readonly value: number | null
      readonly card: string
    }
  | { readonly code: 'tooFar'; readonly days: number }

export type CannotBe = Cannot & {
  readonly panel: string
  readonly job: string
  readonly stage: Stage | null
}

export type JobForecast = {
  readonly job: string
  /** When the last of its panels is through its route; null where one cannot be planned. */
  readonly doneAtMs: number | null
  /** The same with every length at the lower and at the upper end of its spread. */
  readonly earlyMs: number | null
  readonly lateMs: number | null
  /** What takes or waits longest on the panel that is through last. */
  readonly decides: {
    readonly panel: string
    readonly stage: Stage
    readonly kind: PlannedAct['kind']
    readonly wait: Wait
    readonly ms: number
    /** It is the wait before the act that takes so long, not the act. */
    readonly isWait: boolean
  } | null
}

/** The coat to spray next, and why that one. */
export type NextCoat = {
  readonly act: PlannedAct
  readonly because: 'only' | 'window' | 'order'
  /** What else could go on by then. */
  readonly others: readonly string[]
}

/** A window that shuts before its coat is planned: spray it sooner, or abrade. */
export type TonightOrAbrade = {
  readonly panel: string
  readonly job: string
  readonly stage: Stage
  readonly shutsAtMs: number
  /** From when the coat may go on. */
  readonly fromMs: number
}

export type Material = {
  readonly stage: SprayedStage
  readonly sheet: string
  readonly volumeMl: number
  readonly fromMl: number
  readonly toMl: number
}

/** What the shop has, as the plan takes it. */
export type Means = {
  readonly painters: number
  /** People who prepare and do not spray. */
  readonly preppers: number
  readonly guns: readonly {
    readonly id: string
    readonly holds: string | null
    readonly overAt: number | null
    /** Where it was last used. */
    readonly zone: string | null
    /** In whose air the clocks of what is in it run. */
    readonly zones: readonly string[]
    readonly needleMm: number | null
    /** The sheet of what was sprayed from it last. */
    readonly sprayed: string | null
  }[]
  /** When somebody is there, in order; without hours one span without an end. */
  readonly open: readonly { readonly fromMs: number; readonly toMs: number }[]
  /** The longest of these. */
  readonly dayMs: number
  readonly hasHours: boolean
}

/** The air that a zone is taken to keep, and how that is known. */
export type AirTaken = {
  readonly zone: string
  readonly airC: number | null
  readonly rh: number | null
  readonly how: 'read' | 'range' | 'unknown' | 'supposed'
}

export type Forecast = {
  readonly atMs: number
  readonly acts: readonly PlannedAct[]
  readonly jobs: readonly JobForecast[]
  readonly next: NextCoat | null
  readonly tonight: readonly TonightOrAbrade[]
  readonly cannot: readonly CannotBe[]
  /** Jobs that are paused are not planned. */
  readonly paused: readonly string[]
  readonly material: readonly Material[]
  readonly means: Pick<Means, 'painters' | 'preppers' | 'hasHours'> & { readonly guns: number }
  readonly air: readonly AirTaken[]
}

/** What is supposed otherwise than it is. */
export type WhatIf = {
  readonly painters?: number | undefined
  /** Degrees that a zone is warmer (or colder) than it is; in every zone without `zone`. */
  readonly warmerC?: number | undefined
  readonly zone?: string | undefined
  /** By sheet the name of its activator. */
  readonly activators?: { readonly [sheet: string]: string }
  /** One more panel like another one, from the beginning of its route. */
  readonly anotherOf?: string | undefined
}

export type ForecastAsked = {
  readonly figures?: LearnedFigures
  readonly whatIf?: WhatIf
}
