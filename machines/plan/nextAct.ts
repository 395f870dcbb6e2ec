import type { Interval } from '../clock/line.ts'
import type { Mix } from '../cup/mixes.ts'
import { noCardFor } from '../panel/colourGate.ts'
import {
  type CureMode,
  coatsOn,
  dueStep,
  lastCoat,
  type PanelContext,
  zoneOf,
} from '../panel/context.ts'
import { neverCures } from '../panel/cureClock.ts'
import { readyAt } from '../panel/filmReady.ts'
import { type Gate, gateOf, LATEST } from '../panel/gate.ts'
import { shutAt } from '../panel/gateTimes.ts'
import { cleanerDryAt } from '../panel/handWork.ts'
import { coolFrom } from '../panel/roomHeat.ts'
import { sprayMs } from '../panel/spraying.ts'
import { underOf } from '../panel/under.ts'
import type { CureFigures, Opens } from '../sheet/intervals.ts'
import { isSprayed, type SprayedStage, type Stage } from '../sheet/schema.ts'
import type { State } from '../state.ts'
import { afterAbrading } from './actPanel.ts'
import type { Cannot, Wait } from './forecastTypes.ts'
import { HAND_MIN, isHandWork } from './handMinutes.ts'
import { handKey, matteKey, sprayKey } from './learning.ts'
import { airProblem } from './planAir.ts'
import { type Cured, cureOf } from './planCure.ts'
import type { Remembered } from './remembered.ts'

/**
 * What a panel wants next, and from when: asked of the rules that a press is judged by. Only how long
 * something takes that nobody times (spraying, work by hand, until a film is matte) is the shop's own.
 */

/** Lengths as the shop knows them: by the name of a figure what its own figure is multiplied by. */
export type Lengths = { readonly factor: (key: string) => number }

/** The earliest moment of an act, and what it waits for until then. */
type From = { readonly fromMs: number; readonly wait: Wait }

export type HandAct = From & {
  readonly kind: 'hand' | 'abrade'
  readonly step: number
  readonly stage: Stage
  readonly work: string
  readonly ms: number
}
export type CoatAct = From & {
  readonly kind: 'coat'
  readonly step: number
  readonly stage: SprayedStage
  readonly sheet: string | null
  readonly colour: string | null
  readonly ms: number
  readonly gate: Gate | null
  readonly opens: Opens | null
}
export type CureAct = From & {
  readonly kind: 'cure'
  readonly step: number
  readonly mode: CureMode
  readonly ms: number
  readonly setC: number | null
  readonly figures: CureFigures
}
export type Act = HandAct | CoatAct | CureAct
export type Next =
  | Act
  | { readonly kind: 'done' }
  | { readonly kind: 'cannot'; readonly why: Cannot }

/** What somebody does to a panel: heat around it changes from when. */
export const isByPerson = ({ kind }: Next): boolean =>
  kind === 'coat' || kind === 'hand' || kind === 'abrade'

/** What the plan takes of the shop. */
/** How a fresh cup of a product stands and lasts. */
export type Mixing = {
  readonly standMs: number
  readonly lives: readonly Interval[]
  /** When one ends that is mixed in a zone's air at an instant: asked again and again for the same. */
  readonly ends: Remembered<State, number | null>
}

export type Asking = {
  readonly state: State
  readonly now: number
  readonly lengths: Lengths
  /** The mixes that a sheet's coats are planned with. */
  readonly mixesOf: (sheet: string) => readonly Mix[]
  /** What a coat of a sheet opens; the same for all coats of a plan. */
  readonly opensOf: (sheet: string) => Opens | null
  /** What was asked before in plans of the same shop. */
  readonly mixing: Map<string, Mixing>
  readonly next: Remembered<PanelContext, Next>
  readonly after: Remembered<PanelContext, PanelContext>
}

/** The later of two moments, each with what it waits for. */
const later = (a: From, fromMs: number | null, wait: Wait): From =>
  fromMs !== null && fromMs > a.fromMs ? { fromMs, wait } : a

/** How an abraded panel comes to its coat: once in a row, or it never does. */
const isJustAbraded = (panel: PanelContext, at: number): boolean => panel.abradedAt === at

/**
 * @param at from when the panel is free: when its last act ended
 */
export function nextOf(asking: Asking, panel: PanelContext, at: number): Next {
  const step = wantedStep(panel)
  const route = panel.route[step]
  if (!route) return { kind: 'done' }
  const { stage } = route
  if (stage === 'cure') return cureNext(asking, panel, step, at)
  if (isSprayed(stage)) return coatNext(asking, panel, step, stage, at)
  return handNext(asking, panel, step, at)
}

/** The due step; where it was denibbed through, the one that has to go on again before it. */
function wantedStep(panel: PanelContext): number {
  const due = dueStep(panel)
  const [wanted] = panel.wants
  if (wanted === undefined || panel.route[due]?.stage === wanted) return due
  const again = panel.route.findLastIndex(({ stage }, i) => stage === wanted && i < due)
  return again === -1 ? due : again
}

function handNext(asking: Asking, panel: PanelContext, step: number, at: number): Next {
  const { stage, work = stage } = panel.route[step] as { stage: Stage; work?: string }
  const what = stage === 'polish' ? 'polish' : stage === 'sand' ? 'sand' : null
  const from = later({ fromMs: at, wait: 'now' }, coolFrom(asking.state, panel), 'hot')
  const ready =
    what === null && work !== 'abrade' ? from : filmFrom(asking, panel, what ?? 'sand', from)
  if (ready === null) return { kind: 'cannot', why: cannotFlash(panel) }
  return { kind: 'hand', step, stage, work, ms: handMs(asking.lengths, work), ...ready }
}

export function handMs({ factor }: Lengths, work: string): number {
  const minutes = isHandWork(work) ? HAND_MIN[work] : HAND_MIN.prep
  return Math.round(minutes * factor(handKey(work)) * 60_000)
}

/** From when the film may be worked on by hand; null where that never comes. */
function filmFrom(
  asking: Asking,
  panel: PanelContext,
  what: 'sand' | 'polish',
  from: From,
): From | null {
  const last = lastCoat(panel)
  if (!last?.opens) return from
  const isBase = last.opens.stage === 'base' || last.opens.stage === 'midcoat'
  if (what === 'sand' && isBase && panel.curedAt === null) {
    const gate = gateOf(asking.state, panel, last.step, LATEST)
    return gate ? gateFrom(asking, gate, from) : from
  }
  const at = readyAt(asking, { panel }, what)
  return at === null ? null : later(from, at ?? null, 'film')
}

/** The end of a gate's flash; of what has to be looked at, when the shop's own looks found it matte. */
function gateFrom({ lengths }: Asking, gate: Gate, from: From): From | null {
  const { flashEndsAt, needsLook, lookAt, after } = gate
  if (flashEndsAt === null || (needsLook && lookAt === null)) return null
  const flashed = later(from, flashEndsAt, 'flash')
  if (!needsLook || lookAt === null) return flashed
  const factor = after.opens ? lengths.factor(matteKey(after.opens.sheet)) : 1
  const matteAt = after.finishedAt + Math.round((lookAt - after.finishedAt) * factor)
  return later(flashed, matteAt, 'look')
}

const cannotFlash = (panel: PanelContext): Cannot => ({
  code: 'neverFlashes',
  zone: zoneOf(panel),
  sheet: lastCoat(panel)?.opens?.sheet ?? '',
})

function coatNext(
  asking: Asking,
  panel: PanelContext,
  step: number,
  stage: SprayedStage,
  at: number,
): Next {
  const { state, lengths, now } = asking
  const { sheet = null, colour = null } = panel.route[step] as { sheet?: string; colour?: string }
  const gate = gateOf(state, panel, step, LATEST)
  let from: From | null = later({ fromMs: at, wait: 'now' }, coolFrom(state, panel), 'hot')
  from = later(from, cleanerDryAt(state, panel), 'cleaner')
  const free = from
  from = gate ? gateFrom(asking, gate, from) : from
  if (from === null) return { kind: 'cannot', why: cannotFlash(panel) }
  const air = sheet === null ? null : airProblem(state, panel, sheet, now)
  if (air) return { kind: 'cannot', why: air }
  const off = colour === null ? null : noCardFor(state, { job: panel.job, colour, at: now })
  if (off) return { kind: 'cannot', why: { code: 'colourOff', ...off } }
  const ms = Math.round(sprayMs(state, panel, now) * lengths.factor(sprayKey(stage)))
  const opens = sheet === null ? null : asking.opensOf(sheet)
  const coat: CoatAct = { kind: 'coat', step, stage, sheet, colour, ms, gate, opens, ...from }
  if (underOf(state, panel, step, now)) return abradeNext(asking, panel, step, free, coat)
  return coat
}

/** When a coat may begin that wants to at a moment: there, or when its window opens again. Null: not without abrading. */
export function opensFor({ gate }: CoatAct, at: number): number | null {
  if (!gate) return at
  let from = at
  for (let tries = 0; tries < 4; tries += 1) {
    const shut = shutAt(gate, from)
    if (!shut) return from
    if (shut.opensAgainAt === null) return null
    from = shut.opensAgainAt
  }
  return null
}

/** Abrading before a coat whose window is shut: where that does not open it again, it cannot be planned. */
export function abradeNext(
  asking: Asking,
  panel: PanelContext,
  step: number,
  from: From,
  coat: CoatAct,
): Next {
  const ready = filmFrom(asking, panel, 'sand', from)
  if (ready === null) return { kind: 'cannot', why: cannotFlash(panel) }
  const ms = handMs(asking.lengths, 'abrade')
  const doneAt = ready.fromMs + ms
  const abraded = afterAbrading(panel, doneAt)
  const gate = gateOf(asking.state, abraded, step, LATEST)
  const stillShut = gate ? shutAt(gate, doneAt) : undefined
  if (stillShut || isJustAbraded(panel, from.fromMs))
    return { kind: 'cannot', why: shutFor(coat, stillShut?.why ?? 'window') }
  return { kind: 'abrade', step, stage: coat.stage, work: 'abrade', ms, ...ready }
}

/** Why a window cannot be kept: it is shorter than what has to happen in it, or it is shut for good. */
function shutFor({ gate, sheet, ms }: CoatAct, why: string): Cannot {
  const shutsAtMs = gate?.shutters.find((one) => one.why === 'window')?.shutsAt
  const after = gate?.after.finishedAt
  const opensAtMs = gate?.lookAt ?? gate?.flashEndsAt
  const isShort =
    shutsAtMs !== undefined && typeof opensAtMs === 'number' && shutsAtMs < opensAtMs + ms
  const minutes = (toMs: number) => Math.ceil((toMs - (after ?? toMs)) / 60_000)
  if (isShort)
    return {
      code: 'windowShort',
      windowMin: minutes(shutsAtMs),
      needsMin: minutes(opensAtMs + ms),
      sheet: gate?.after.opens?.sheet ?? sheet ?? '',
    }
  return { code: 'windowShut', why, sheet: gate?.after.opens?.sheet ?? sheet ?? '' }
}

function cureNext(asking: Asking, panel: PanelContext, step: number, at: number): Next {
  if (neverCures(panel)) return { kind: 'cannot', why: { code: 'neverCures' } }
  const cured: Cured | Cannot = cureOf(asking, panel, step, at)
  if ('code' in cured) return { kind: 'cannot', why: cured }
  const from: From = later({ fromMs: at, wait: 'now' }, cured.fromMs, 'flash')
  return { kind: 'cure', step, ...cured, ...from }
}

/** How many coats of its step are on, and how many are planned. */
export const coatNumber = (panel: PanelContext, step: number) => ({
  n: coatsOn(panel, step) + 1,
  of: panel.route[step]?.coats?.planned ?? 1,
})
