import type { Stage } from '../sheet/schema.ts'
import type { FinishedCoat, PanelContext, StepStatus } from './context.ts'
import { coatsOn, dueStep, lastCoat } from './context.ts'
import type { FactOf } from './events.ts'
import type { Hold } from './hold.ts'
import { placeCoat } from './place.ts'

/** How each fact changes a panel. Nothing is judged here: decide did that on the day. */

const marked = (
  panel: PanelContext,
  steps: readonly number[],
  as: StepStatus,
): readonly StepStatus[] => panel.status.map((s, i) => (steps.includes(i) ? as : s))

const withStatus = (
  panel: PanelContext,
  steps: readonly number[],
  as: StepStatus,
): PanelContext => ({ ...panel, status: marked(panel, steps, as) })

export function added({ data, at, job }: FactOf<'PanelAdded'>, blank: PanelContext): PanelContext {
  return {
    ...blank,
    job: job ?? '',
    name: data.name,
    operation: data.operation,
    substrate: data.substrate ?? null,
    areaM2: data.areaM2 ?? null,
    stays: [{ fromMs: at, zone: data.zone }],
    route: data.route,
    status: data.route.map(() => 'open'),
  }
}

export function moved(panel: PanelContext, fact: FactOf<'PanelMoved'>): PanelContext {
  return { ...panel, stays: [...panel.stays, { fromMs: fact.at, zone: fact.data.zone }] }
}

/**
 * A new route keeps what was done of the steps that it shares with the old one. One that now plans
 * no more coats than are on has ended.
 */
export function rerouted(panel: PanelContext, { data }: FactOf<'RouteSet'>): PanelContext {
  const status = data.route.map((step, i): StepStatus => {
    const old = panel.route[i]
    const isSame = old?.stage === step.stage && old.sheet === step.sheet
    const was = (isSame ? panel.status[i] : undefined) ?? 'open'
    const isPlanMet = step.coats !== null && coatsOn(panel, i) >= step.coats.planned
    return was === 'open' && isSame && isPlanMet ? 'done' : was
  })
  return { ...panel, route: data.route, status }
}

export function prepDone(panel: PanelContext, fact: FactOf<'PrepStepDone'>): PanelContext {
  const { step, grit, pad, work } = fact.data
  const stage = panel.route[step]?.stage
  // Polishing takes off less than a coat needs to hold on.
  const isAbraded =
    stage !== 'polish' &&
    (grit !== undefined || pad !== undefined || stage === 'sand' || work === 'abrade')
  const abrasion = {
    ...(grit === undefined ? {} : { grit }),
    ...(pad === undefined ? {} : { pad }),
  }
  const next: PanelContext = {
    ...panel,
    ...(isAbraded ? { abradedAt: fact.at, abrasion } : {}),
    ...(work === 'degrease' ? { degreasedAt: fact.at } : {}),
  }
  return withStatus(next, [step], 'done')
}

export const skipped = (panel: PanelContext, { data }: FactOf<'StepSkipped'>): PanelContext =>
  withStatus(panel, [data.step], 'skipped')

/** What a start's cup holds. Starts of before did not say which mixes: their finishes carry the figures. */
function startHold({ data: { sheet, stage, mixes } }: FactOf<'CoatStarted'>): Hold | null {
  return sheet === null || stage === null || mixes === undefined ? null : { sheet, stage, mixes }
}

export function started(panel: PanelContext, fact: FactOf<'CoatStarted'>): PanelContext {
  const place = placeCoat(panel, fact.data)
  if (!place) return panel
  const open = {
    step: place.step,
    startedAt: fact.at,
    isEstimated: false,
    kind: fact.data.kind,
    cups: fact.cup === undefined ? [] : [fact.cup],
    gun: fact.gun ?? null,
    ...(fact.data.tint === undefined ? {} : { tint: fact.data.tint }),
    holds: fact.cup === undefined ? [] : [startHold(fact)],
    ...(fact.data.pass ? { pass: { command: fact.command, panels: fact.data.pass } } : {}),
  }
  // A coat over a film that cures ends that cure: the film is wet again.
  const next = { ...panel, open, cure: null }
  return withStatus(next, place.skipped, 'skipped')
}

export function continued(panel: PanelContext, fact: FactOf<'CoatContinued'>): PanelContext {
  if (!panel.open || fact.cup === undefined) return panel
  const { tint: _, ...before } = panel.open
  const { cups, holds = [] } = before
  const { tint } = fact.data
  const open = {
    ...before,
    ...(tint === undefined ? {} : { tint }),
    cups: [...cups, fact.cup],
    holds: [...holds, fact.data.hold ?? null],
  }
  return { ...panel, open }
}

/** A finish without a start brings its own start, given or estimated. */
function withStart(panel: PanelContext, fact: FactOf<'CoatFinished'>): PanelContext {
  if (panel.open) return panel
  const { startedAt, estimatedStartAt } = fact.data
  const at = startedAt ?? estimatedStartAt ?? fact.at
  const begun = started(panel, { ...fact, type: 'CoatStarted', at })
  if (!begun.open) return panel
  return { ...begun, open: { ...begun.open, isEstimated: startedAt === undefined } }
}

/** The coats before one that begins: of the last of them the panel says no more what was done to it. */
function worked({ coats, abradedAt, abrasion, curedAt }: PanelContext): readonly FinishedCoat[] {
  const last = coats.at(-1)
  if (!last || (abradedAt === null && curedAt === null)) return coats
  return coats.with(-1, { ...last, worked: { abradedAt, abrasion, curedAt } })
}

/** The pass of a panel whose place in it is a guess; of one that nobody started its beginning is not known. */
function shareOf(
  { at, data }: FactOf<'CoatFinished'>,
  { startedAt, isEstimated }: Pick<FinishedCoat, 'startedAt' | 'isEstimated'>,
): Pick<FinishedCoat, 'share'> {
  if (!data.isGuess) return {}
  return { share: { passFromMs: isEstimated ? null : startedAt, passToMs: data.passEndsAt ?? at } }
}

/** Of what was done to the last coat nothing holds of the one over it. */
const bare = (panel: PanelContext): PanelContext => ({
  ...panel,
  abradedAt: null,
  abrasion: null,
  denibbedAt: null,
  degreasedAt: null,
  mattAt: null,
  notYetAt: null,
  curedAt: null,
  cure: null,
})

export function finished(panel: PanelContext, fact: FactOf<'CoatFinished'>): PanelContext {
  const begun = withStart(panel, fact)
  if (!begun.open) return panel
  const { holds: _, pass: __, tint: before, ...open } = begun.open
  const tint = fact.cup === undefined ? before : fact.data.tint
  const isWanted = begun.route[open.step]?.stage === begun.wants[0]
  const isFree = isWanted && begun.status[open.step] === 'done'
  const coat: FinishedCoat = {
    ...open,
    cups:
      fact.cup === undefined || open.cups.includes(fact.cup) ? open.cups : [...open.cups, fact.cup],
    finishedAt: fact.at,
    entry: fact.id,
    pass: fact.command,
    ...(fact.data.passEndsAt === undefined ? {} : { passEndsAt: fact.data.passEndsAt }),
    ...shareOf(fact, open),
    ...(tint === undefined ? {} : { tint }),
    ...(fact.data.reachCm === undefined ? {} : { reachCm: fact.data.reachCm }),
    opens: fact.data.opens,
    counts: !isFree,
  }
  const next: PanelContext = {
    ...bare(begun),
    open: null,
    coats: [...worked(begun), coat],
    wants: isWanted ? begun.wants.slice(1) : [],
  }
  const planned = next.route[coat.step]?.coats?.planned ?? 1
  return coatsOn(next, coat.step) >= planned ? withStatus(next, [coat.step], 'done') : next
}

/** What is on of a coat that was broken off lies there like any other, and does not count yet. */
export function brokenOff(panel: PanelContext, fact: FactOf<'CoatBrokenOff'>): PanelContext {
  if (!panel.open) return panel
  const { holds: _, pass: __, ...open } = panel.open
  const { opens, doneShare } = fact.data
  const coat: FinishedCoat = {
    ...open,
    finishedAt: fact.at,
    entry: fact.id,
    pass: fact.command,
    opens,
    counts: false,
    part: doneShare === undefined ? {} : { doneShare },
  }
  return { ...bare(panel), open: null, coats: [...worked(panel), coat] }
}

export function filmRead(panel: PanelContext, { at, data }: FactOf<'FilmRead'>): PanelContext {
  const { um, method } = data
  const film = { at, um, method, entry: lastCoat(panel)?.entry ?? null }
  return { ...panel, films: [...(panel.films ?? []), film] }
}

export function inspected(panel: PanelContext, fact: FactOf<'CoatInspected'>): PanelContext {
  if (fact.data.result === 'matt') return { ...panel, mattAt: fact.at }
  if (fact.data.result === 'notYet') return { ...panel, mattAt: null, notYetAt: fact.at }
  return panel
}

export const covered = (panel: PanelContext, { data }: FactOf<'CoverReached'>): PanelContext =>
  withStatus(panel, [data.step], 'done')

export function abraded(panel: PanelContext, fact: FactOf<'PanelAbraded'>): PanelContext {
  const { overspray, ...abrasion } = fact.data
  // What drifted onto a face is taken off it; no window is opened again by that.
  if (overspray) return { ...panel, oversprayAt: fact.at }
  return { ...panel, abradedAt: fact.at, abrasion, wants: wantsAfter(panel, false) }
}

/** A spot was taken down: nothing is opened again by that. */
export const denibbed = (
  panel: PanelContext,
  { at, data }: FactOf<'PanelDenibbed'>,
): PanelContext => ({
  ...panel,
  denibbedAt: at,
  wants: wantsAfter(panel, data.toGround === true),
})

/** What has to go on again over a place that was abraded: a base, or a midcoat with its ground coat. */
function wantsAfter(panel: PanelContext, isToGround: boolean): readonly Stage[] {
  const stage = panel.route[lastCoat(panel)?.step ?? -1]?.stage
  if (stage === 'base') return ['base']
  if (stage !== 'midcoat') return panel.wants
  return isToGround ? ['base', 'midcoat'] : ['midcoat']
}

/** A cure begun before its step skips the open steps before it: decide asked for a reason. */
export function cureStarted(panel: PanelContext, fact: FactOf<'CureStarted'>): PanelContext {
  const open = panel.status.flatMap((s, i) => (s === 'open' && i < fact.data.step ? [i] : []))
  const { mode, figures, setC, lagC } = fact.data
  const cure = {
    ...{ entry: fact.id, mode, startedAt: fact.at, figures, parts: [] },
    ...(setC === undefined ? {} : { setC }),
    ...(lagC === undefined ? {} : { lagC }),
  }
  return { ...withStatus(panel, open, 'skipped'), cure }
}

export function partRead(panel: PanelContext, { at, data }: FactOf<'PartRead'>): PanelContext {
  const { partC, isEstimated = false, ofAir } = data
  // At the temperature of a cure that nobody recorded.
  if (partC === undefined) return panel
  const parts = isEstimated ? panel.parts : [...panel.parts, { at, partC }]
  if (!panel.cure) return { ...panel, parts }
  const part = { at, partC, isEstimated, ...(ofAir ? { ofAir } : {}) }
  const cure = { ...panel.cure, parts: [...panel.cure.parts, part] }
  return { ...panel, parts, cure }
}

/** A cure that ended early leaves its step open; either way the film has had heat or time. */
export function cureEnded(panel: PanelContext, fact: FactOf<'CureEnded'>): PanelContext {
  const step = panel.route.findIndex((s, i) => s.stage === 'cure' && panel.status[i] === 'open')
  const next = { ...panel, cure: null, curedAt: fact.at }
  return fact.data.isComplete ? withStatus(next, [step], 'done') : next
}

export function polished(panel: PanelContext): PanelContext {
  const step = dueStep(panel)
  return panel.route[step]?.stage === 'polish' ? withStatus(panel, [step], 'done') : panel
}

/** A panel that is passed early leaves its cure as well: its film has had heat, its zone is free. */
export function passed(panel: PanelContext, fact: FactOf<'PanelPassed'>): PanelContext {
  const open = panel.status.flatMap((s, i) => (s === 'open' ? [i] : []))
  const curedAt = panel.cure ? fact.at : panel.curedAt
  return { ...withStatus(panel, open, 'skipped'), cure: null, curedAt, passedAt: fact.at }
}

export const removed = (panel: PanelContext): PanelContext => ({
  ...panel,
  open: null,
  cure: null,
  passedAt: null,
})
