import { endsAt } from '../clock/line.ts'
import type { CommandData } from '../commands.ts'
import { readyOver } from '../sheet/fold.ts'
import type { Opens, ReadyFor } from '../sheet/intervals.ts'
import type { State } from '../state.ts'
import { climateOf } from './climate.ts'
import { dueStep, lastCoat, type PanelContext } from './context.ts'
import type { FoundPanel } from './find.ts'
import { gateOf, LATEST, latest } from './gate.ts'
import { coolFrom } from './roomHeat.ts'

/** From when a film may be worked on by hand. */

/** `at`, UTC ms: as it was known then. */
export type Known = { readonly state: State; readonly at?: number }

/**
 * From when the sheet's times for work on the film count: after heat from when the part is cool, else
 * from the coat. Null where it cured in air: then it may be worked on.
 */
function readyFrom(
  d: Known,
  { panel }: Pick<FoundPanel, 'panel'>,
): { fromMs: number; isHeated: boolean } | null {
  const last = lastCoat(panel)
  const heat = panel.heats?.at(-1)
  if (!last) return null
  if (panel.curedAt === null) return { fromMs: last.finishedAt, isHeated: false }
  if (heat?.toMs !== panel.curedAt) return null
  return { fromMs: coolFrom(d.state, panel, d.at) ?? heat.toMs, isHeated: true }
}

/** What says when a film is ready for some work: its coat's entry, else its sheet or the shop since. */
const figureFor = (d: Known, { ready, sheet }: Opens, what: ReadyFor) =>
  ready?.[what] ?? readyOver(d.state, sheet, what, d.at ?? Number.MAX_SAFE_INTEGER)

/**
 * The product whose figure for some work on its film nobody has typed: it is asked for before its first
 * use, and until then a careful figure stands in for it.
 * @returns null where it is known or not needed: a base by eye, a film that cured in air
 */
export function readyAsked(d: Known, p: Pick<FoundPanel, 'panel'>, what: ReadyFor): string | null {
  const opens = lastCoat(p.panel)?.opens
  const from = readyFrom(d, p)
  if (!opens || !from || (what === 'sand' && isByEye(p.panel))) return null
  // Nobody carries a part before it is cool: that is known.
  if (what === 'handle' && (from.isHeated || figureFor(d, opens, 'dustFree'))) return null
  return figureFor(d, opens, what) === undefined ? opens.sheet : null
}

/** A base or midcoat that has not cured: matte to the eye it may be worked on. */
function isByEye(panel: PanelContext): boolean {
  const stage = lastCoat(panel)?.opens?.stage
  return (stage === 'base' || stage === 'midcoat') && panel.curedAt === null
}

/** When the film is ready for some work by its sheet; null where that never comes, undefined where it is not said. */
export function readyAt(
  d: Known,
  p: Pick<FoundPanel, 'panel'>,
  what: ReadyFor,
): number | null | undefined {
  const from = readyFrom(d, p)
  const opens = lastCoat(p.panel)?.opens
  if (!from || !opens) return undefined
  const figure = figureFor(d, opens, what)
  const climate = climateOf(d.state, p.panel)
  if (figure) return endsAt(figure, from.fromMs, climate)
  // Nobody sands, polishes or carries a part that is hot.
  if (from.isHeated) return from.fromMs
  // Nothing typed is not zero: paper and tape wait at least until another product might go on.
  if (what === 'handle' || what === 'dustFree') return undefined
  return latest(opens.flashBeforeNext, from.fromMs, climate)
}

type Sandable = { readonly limit: number | null; readonly needsLook: boolean }

/** When a film may be sanded: a base has to be matte, the others ready to sand. Undefined where nothing says it. */
export function sandableAt(d: Known, p: Pick<FoundPanel, 'panel'>): Sandable | undefined {
  const last = lastCoat(p.panel)
  if (!last || !isByEye(p.panel)) {
    const limit = readyAt(d, p, 'sand')
    return limit === undefined ? undefined : { limit, needsLook: false }
  }
  // As before its own next coat: matte to the eye and not before the floor, or its time.
  const gate = gateOf(d.state, p.panel, last.step, d.at ?? LATEST)
  if (!gate) return undefined
  const { needsLook, lookAt, flashEndsAt } = gate
  return { limit: needsLook ? lookAt : flashEndsAt, needsLook }
}

/**
 * From when some work on a film is no longer refused, UTC ms.
 * @returns null where nothing is waited for, or where only an eye or a figure that nobody has typed would tell
 */
export function workableAt(state: State, panel: PanelContext, what: ReadyFor): number | null {
  if (readyAsked({ state }, { panel }, what) !== null) return null
  if (what !== 'sand') return readyAt({ state }, { panel }, what) ?? null
  const at = sandableAt({ state }, { panel })
  return at && !at.needsLook ? at.limit : null
}

type StepWork = Pick<CommandData<'DoPrepStep'>, 'step' | 'grit' | 'pad' | 'work'>

/** For what the film has to be ready before a step of preparation: by its stage and what is done in it. */
export function readyForStep(
  { route }: Pick<PanelContext, 'route'>,
  { step, grit, pad, work: said }: StepWork,
): ReadyFor | undefined {
  const stage = route[step]?.stage
  const work = said ?? route[step]?.work
  if (stage === 'polish') return 'polish'
  if (work === 'mask') return 'tape'
  if (work === 'degrease') return undefined
  const isSanding = stage === 'sand' || work === 'abrade' || grit !== undefined || pad !== undefined
  return isSanding ? 'sand' : undefined
}

/** From when the work by hand that is due is no longer refused, UTC ms; null where nothing is waited for, or it is not known. */
export function handFrom(state: State, panel: PanelContext): number | null {
  const needs = readyForStep(panel, { step: dueStep(panel) })
  return needs === undefined ? null : workableAt(state, panel, needs)
}
