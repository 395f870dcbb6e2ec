import { can } from '../can.ts'
import type { Deciding, NewFact } from '../deciding.ts'
import type { Problem, RefusalCode } from '../refusals.ts'
import { dueStep } from './context.ts'
import { type FoundPanel, notKnownYet } from './find.ts'
import { isCoating, type PanelState } from './where.ts'

type Barred = Extract<
  RefusalCode,
  'notCuring' | 'wrongStep' | 'coatRunning' | 'curing' | 'nothingThere'
>

/** Why a fact is not taken in a panel's state. */
function codeOf(type: NewFact['type'], where: PanelState): Barred {
  if (type === 'CureEnded') return 'notCuring'
  if (type === 'CoatContinued') return 'wrongStep'
  if (isCoating(where)) return 'coatRunning'
  if (where === 'cure.running') return 'curing'
  return type === 'CoatInspected' ? 'nothingThere' : 'wrongStep'
}

/** What has to be recorded first: the start of the coat, sending back, or the step that is due. */
function nextText(type: NewFact['type'], { panel, where }: FoundPanel): string {
  if (type === 'CoatContinued') return 'coatStart'
  if (type === 'RouteSet' && where === 'passed') return 'sendBack'
  return panel.route[dueStep(panel)]?.stage ?? 'nothing'
}

export const wrongStep = (
  type: NewFact['type'],
  p: FoundPanel,
  value: number | string | null,
): Problem => ({
  code: 'wrongStep',
  limit: nextText(type, p),
  value,
  panel: p.id,
  about: p.panel.name,
})

/**
 * The problems of a fact in the panel's state: none where its chart takes it.
 * @param value what was asked for, as the refusal says it
 */
export function notFrom(
  d: Deciding,
  p: FoundPanel,
  fact: NewFact,
  value: number | string | null = null,
): Problem[] {
  const waits = notKnownYet(p)
  if (waits.length > 0) return waits
  if (can(d, 'panel', p.thing, fact)) return []
  const code = codeOf(fact.type, p.where)
  if (code === 'wrongStep') return [wrongStep(fact.type, p, value)]
  return [{ code, limit: null, value: null, panel: p.id, about: p.panel.name }]
}
