import type { PartReading } from '../clock/air.ts'
import { COAT_KINDS, type CoatKind } from '../sheet/between.ts'
import type { CureFigures, Opens } from '../sheet/intervals.ts'
import type { Coats, Pad, Stage } from '../sheet/schema.ts'
import type { Hold } from './hold.ts'

export const OPERATIONS = ['new-part', 'repair', 'blend', 'clear-only'] as const
export type Operation = (typeof OPERATIONS)[number]

export { COAT_KINDS, type CoatKind }

/** What is done by hand. */
export const WORKS = [
  'degrease',
  'fill',
  'isolate',
  'guideCoat',
  'abrade',
  'tack',
  'mask',
  'unmask',
  'purge',
] as const
export type Work = (typeof WORKS)[number]

/** One step of a route, with its coats as they were resolved when the route was set. */
export type Step = {
  readonly stage: Stage
  readonly sheet?: string
  readonly colour?: string
  readonly coats: Coats | null
  readonly face: 'whole' | 'edges' | 'spot'
  /** What is done by hand in a step of preparation. */
  readonly work?: Work
}

export type StepStatus = 'open' | 'done' | 'skipped'

export type Coat = {
  readonly step: number
  readonly startedAt: number
  readonly isEstimated: boolean
  readonly kind: CoatKind
  readonly cups: readonly string[]
  readonly gun: string | null
  /** The hand-made variant of its last cup. */
  readonly tint?: string
}

/** A coat that is being sprayed, and what each of its cups holds; null for one that is not known. */
export type OpenCoat = Coat & {
  readonly holds?: readonly (Hold | null)[]
  /** The command that started it, and the panels that it started. Starts of before did not say. */
  readonly pass?: { readonly command: string; readonly panels: readonly string[] }
}

/** A coat that is on. `counts` is false once the panel was sent back before it: the film is still there. */
export type FinishedCoat = Coat & {
  readonly finishedAt: number
  readonly entry: string
  /** The command that finished it: the panels of a pass share it. */
  readonly pass: string
  /** When the pass was reported finished, if this was not its last panel: its finishes are spread before that. */
  readonly passEndsAt?: number
  /** Of a pass whose order nobody confirmed: when it began, where that is known, and when it ended. */
  readonly share?: { readonly passFromMs: number | null; readonly passToMs: number }
  readonly opens: Opens | null
  readonly counts: boolean
  /** How far a blend reaches beyond its spot. */
  readonly reachCm?: number
  /** It was broken off, with so much of it on where that was said. */
  readonly part?: { readonly doneShare?: number }
  /** Absent on the last coat, of which the panel says it. */
  readonly worked?: Worked
}

export type CureMode = 'air' | 'bake' | 'infrared'
export type Cure = {
  readonly entry: string
  readonly mode: CureMode
  readonly startedAt: number
  /** What a bake was set to, °C; absent where nobody said. */
  readonly setC?: number
  /** How far a part stays behind that, °C. Bakes of before did not say. */
  readonly lagC?: number
  readonly figures: CureFigures
  readonly parts: readonly CurePart[]
}

/** How warm a part was in a cure; `ofAir`: what was said to be so warm is the air around it. */
export type CurePart = PartReading & { readonly isEstimated: boolean; readonly ofAir?: true }

/** Heat that a panel was in. */
export type PastHeat = {
  readonly mode: Exclude<CureMode, 'air'>
  readonly fromMs: number
  readonly toMs: number
  readonly setC?: number
}

/** With what a whole panel was abraded. */
export type Abrasion = { readonly grit?: number; readonly pad?: Pad }

/** What was done to a coat before another one covered a part of it. */
export type Worked = {
  readonly abradedAt: number | null
  readonly abrasion: Abrasion | null
  readonly curedAt: number | null
}

export const FILM_METHODS = ['wetComb', 'gauge'] as const
/** A film as measured; `entry` is the coat that was the last one then. */
export type Film = {
  readonly at: number
  readonly um: number
  readonly method: (typeof FILM_METHODS)[number]
  readonly entry: string | null
}

export type ZoneStay = { readonly fromMs: number; readonly zone: string }

export type PanelContext = {
  readonly job: string
  readonly name: string
  readonly operation: Operation
  readonly substrate: string | null
  readonly areaM2: number | null
  readonly stays: readonly ZoneStay[]
  readonly route: readonly Step[]
  readonly status: readonly StepStatus[]
  readonly coats: readonly FinishedCoat[]
  readonly open: OpenCoat | null
  /** Since the last coat: when it was abraded, seen matt, seen not yet matt. */
  readonly abradedAt: number | null
  readonly abrasion: Abrasion | null
  /** Stages that have to be sprayed again where it was denibbed, the lowest first. */
  readonly wants: readonly Stage[]
  readonly denibbedAt: number | null
  readonly degreasedAt: number | null
  /** When what drifted onto its face was abraded. */
  readonly oversprayAt?: number
  readonly mattAt: number | null
  readonly notYetAt: number | null
  readonly cure: Cure | null
  /** When a cure ended over the last coat: it shuts every window. */
  readonly curedAt: number | null
  readonly heats?: readonly PastHeat[]
  readonly parts: readonly PartReading[]
  readonly films?: readonly Film[]
  readonly passedAt: number | null
}

export const BLANK_PANEL: PanelContext = {
  job: '',
  name: '',
  operation: 'repair',
  substrate: null,
  areaM2: null,
  stays: [],
  route: [],
  status: [],
  coats: [],
  open: null,
  abradedAt: null,
  abrasion: null,
  wants: [],
  denibbedAt: null,
  degreasedAt: null,
  mattAt: null,
  notYetAt: null,
  cure: null,
  curedAt: null,
  parts: [],
  passedAt: null,
}

export const zoneOf = (panel: PanelContext): string => panel.stays.at(-1)?.zone ?? ''
/** The zone that a panel was in at an instant. */
export const zoneAt = ({ stays }: Pick<PanelContext, 'stays'>, at: number): string =>
  (stays.findLast((stay) => stay.fromMs <= at) ?? stays[0])?.zone ?? ''
export const lastCoat = (panel: PanelContext): FinishedCoat | undefined => panel.coats.at(-1)

/**
 * Whether a start that happened at an instant is the start of a coat whose finish was spread to
 * before it: the press that ended the pass came after both.
 */
export const coversStart = (coat: FinishedCoat | undefined, at: number): coat is FinishedCoat =>
  coat?.passEndsAt !== undefined && coat.finishedAt <= at && at < coat.passEndsAt

export const stepAt = (panel: PanelContext, index: number): Step | undefined => panel.route[index]

/** The next step: the first open one, or the route's length when all are done. */
export function dueStep({ status }: PanelContext): number {
  const open = status.indexOf('open')
  return open === -1 ? status.length : open
}

/**
 * Whether a finish is one that is known already, sent by another kiosk or touched twice: since the
 * last coat ended there was no time to spray another. A named start, step or other cup shows that
 * there was another coat.
 */
export function isSaidAlready(
  panel: PanelContext,
  finish: { readonly startedAt?: number | undefined; readonly step?: number | undefined },
  cup: string | undefined,
  at: number,
  sprayMs: number,
): boolean {
  const last = lastCoat(panel)
  const { startedAt, step } = finish
  if (panel.open || !last || startedAt !== undefined || step !== undefined) return false
  const isSameCup = cup === undefined || last.cups.includes(cup)
  return isSameCup && last.finishedAt <= at && at - last.finishedAt < sprayMs
}

/** Coats of a step that count. */
export const coatsOn = (panel: PanelContext, step: number): number =>
  panel.coats.filter((c) => c.step === step && c.counts).length
