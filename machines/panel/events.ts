import type { Mix } from '../cup/mixes.ts'
import type { Fact } from '../envelope.ts'
import type { CureFigures, Opens } from '../sheet/intervals.ts'
import type { Stage } from '../sheet/schema.ts'
import type { Abrasion, CoatKind, CureMode, Film, Operation, Step } from './context.ts'
import type { Hold } from './hold.ts'
import type { Fits } from './place.ts'

export const INSPECTIONS = [
  'matt',
  'notYet',
  'good',
  'nibsOut',
  'run',
  'dry',
  'mottle',
  'fisheye',
  'notCovered',
] as const
export type Inspection = (typeof INSPECTIONS)[number]

/**
 * The product of a coat, from its cup. A start from a cup that the log did not know has none; the
 * finish of such a coat takes what the route names for its step, so that the film has a clock, and
 * is null only where the route names nothing either.
 */
type Product = {
  readonly sheet: string | null
  readonly stage: Stage | null
  readonly step?: number
  /** The colors of steps that its cup is, where nobody named the step: it goes to one of these. Entries of before keep theirs. */
  readonly fits?: Fits
}

export type PanelAdded = Fact<
  'PanelAdded',
  {
    name: string
    operation: Operation
    substrate?: string
    areaM2?: number
    zone: string
    route: readonly Step[]
    isPaused?: boolean
    /** Something was said of it before it was known, and says no job. */
    isAwaited?: boolean
  }
>
/** `mixes` are those of its cup; empty for one that was not known. */
export type CoatStarted = Fact<
  'CoatStarted',
  Product & {
    kind: CoatKind
    mixes?: readonly Mix[]
    /** The panels that were started with one touch. */
    pass?: readonly string[]
    /** The hand-made variant of its cup. */
    tint?: string
    /** What its sheet asked, and nobody answered. */
    asked?: readonly string[]
  }
>
export type CoatFinished = Fact<
  'CoatFinished',
  Product & {
    kind: CoatKind
    /** As the finish said it, where the coat that was running then was another kind: it may end another one. */
    ownKind?: CoatKind
    startedAt?: number
    reachCm?: number
    estimatedStartAt?: number
    /** When the press came that ended the pass, where other panels were sprayed after this one. */
    passEndsAt?: number
    /** These panels, and how long each takes to spray by what was known at the press. */
    after?: readonly { readonly panel: string; readonly sprayMs: number }[]
    /** The order of the pass is a guess. Passes of before were taken at their word. */
    isGuess?: true
    opens: Opens | null
    /** The mixes that `opens` was taken for. */
    mixes?: readonly Mix[]
    /** What the cup that the finish itself names holds; null for one that was not known. */
    own?: Hold | null
    tint?: string
    /** How long the panel takes to spray: a finish so soon after the last one is that one said again. */
    sprayMs?: number
  }
>
export type CoatBrokenOff = Fact<
  'CoatBrokenOff',
  { opens: Opens | null; mixes: readonly Mix[]; doneShare?: number }
>
export type PanelFact =
  | PanelAdded
  | CoatStarted
  | CoatFinished
  | Fact<'PanelMoved', { zone: string }>
  | Fact<'PanelRemoved', object>
  | Fact<'RouteSet', { route: readonly Step[] }>
  | Fact<'PrepStepDone', Abrasion & { step: number; work?: string }>
  | Fact<'StepSkipped', { step: number }>
  | Fact<'CoatContinued', { hold?: Hold | null; tint?: string }>
  | CoatBrokenOff
  | Fact<'FilmRead', { um: number; method: Film['method']; coat?: string }>
  | Fact<'CoatInspected', { result: Inspection }>
  /** `isForced`: a reason was given, whether coats were missing by what was known or not. Entries of before say it by their override. */
  | Fact<'CoverReached', { step: number; isForced?: true }>
  | Fact<'PanelAbraded', Abrasion & { overspray?: boolean }>
  | Fact<'PanelDenibbed', { grit?: number; toGround?: boolean }>
  | Fact<
      'CureStarted',
      { step: number; mode: CureMode; figures: CureFigures; setC?: number; lagC?: number }
    >
  | Fact<'PartRead', { partC?: number; isEstimated?: boolean; ofAir?: true }>
  | Fact<'CureEnded', { isComplete: boolean }>
  | Fact<'PanelPolished', object>
  | Fact<'PanelPassed', object>
  | Fact<'PanelSentBack', { toStep: number; done: number; stripped?: boolean }>
  | Fact<'JobPaused', object>
  | Fact<'JobResumed', object>

export type FactOf<T extends PanelFact['type']> = Extract<PanelFact, { type: T }>
