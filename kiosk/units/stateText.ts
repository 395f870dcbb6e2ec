import type { ChartedKind } from '../../machines/job/steps.ts'
import { type PanelState, sprayPhase, stageIn } from '../../machines/panel/where.ts'
import type { Words } from '../words/en.ts'
import type { PanelStateName } from '../words/states.ts'

/** The state of a panel's walk in words: "clear, between coats". */
export function panelStateText(where: PanelState, { stage: stages, states }: Words): string {
  const phase = sprayPhase(where)
  const stage = stageIn(where)
  if (phase === null || stage === null) return states.panel[where as PanelStateName]
  return `${stages[stage]}, ${states.panel[phase]}`
}

/** The state of a job, panel or cup in words, from the path that its chart gives it. */
export function stateText(
  { kind, state }: { readonly kind: ChartedKind; readonly state: string },
  words: Words,
): string {
  if (kind === 'panel') return panelStateText(state as PanelState, words)
  const names: Readonly<Record<string, string>> = words.states[kind]
  return names[state] ?? state
}
