import type { Deciding } from '../deciding.ts'
import type { Problem } from '../refusals.ts'
import { prepOver } from '../sheet/fold.ts'
import type { State } from '../state.ts'
import { coatsOn, type PanelContext } from './context.ts'
import type { FoundPanel } from './find.ts'
import { isPrepared } from './layers.ts'

/** What lies under a coat and is no film of this job's steps: an old finish, or what drifted onto a face. */

type Under = { readonly why: 'existing' | 'overspray'; readonly sinceMs: number }

/** A finish that was there before, of which the sheet to come says how it has to be abraded. */
function existing(state: State, panel: PanelContext, target: number, at: number): Under | null {
  if (panel.operation === 'new-part' || panel.coats.length > 0) return null
  const prep = prepOver(state, panel.route[target]?.sheet, 'existing', at)
  if (!prep) return null
  const isAbraded = panel.abradedAt !== null && isPrepared(prep, panel.abrasion)
  return isAbraded ? null : { why: 'existing', sinceMs: panel.stays[0]?.fromMs ?? at }
}

/** Edges were sprayed before the face: what drifted onto that has to be taken off first. */
function overspray(panel: PanelContext, target: number): Under | null {
  if ((panel.route[target]?.face ?? 'whole') !== 'whole' || coatsOn(panel, target) > 0) return null
  const faceOf = (step: number) => panel.route[step]?.face ?? 'whole'
  const last = panel.coats.findLast(({ step }) => faceOf(step) !== 'spot')
  if (!last || faceOf(last.step) !== 'edges') return null
  const takenAt = Math.max(panel.abradedAt ?? 0, panel.oversprayAt ?? 0)
  return takenAt >= last.finishedAt ? null : { why: 'overspray', sinceMs: last.finishedAt }
}

/**
 * What has to be abraded under a coat besides the films of the panel's own steps; null for nothing.
 * @param target the route index of its step
 */
export const underOf = (
  state: State,
  panel: PanelContext,
  target: number,
  at: number,
): Under | null => existing(state, panel, target, at) ?? overspray(panel, target)

export function underProblems(d: Deciding, { id, panel }: FoundPanel, target: number): Problem[] {
  const under = underOf(d.state, panel, target, d.at)
  if (!under) return []
  const { why, sinceMs: limit } = under
  return [{ code: 'windowShut', limit, value: d.at, why, panel: id, about: panel.name }]
}

/** A clear on a spot ends off an edge or body line: said with its first coat. */
export function openFadeProblems({ id, panel }: FoundPanel, target: number): Problem[] {
  const step = panel.route[target]
  if (step?.stage !== 'clear' || step.face !== 'spot' || coatsOn(panel, target) > 0) return []
  return [{ code: 'openFade', limit: null, value: null, panel: id, about: panel.name }]
}
