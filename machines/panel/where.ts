import type { SprayedStage, Stage } from '../sheet/schema.ts'

/** What is under the next coat of a sprayed stage, or that it is being sprayed. */
export type SprayPhase = 'due' | 'coating' | 'between' | 'abraded' | 'sentBack'

/** The state of a panel's walk: the chart's states, as dotted paths. */
export type PanelState =
  | 'unknown'
  | 'prep'
  | `${SprayedStage}.${SprayPhase}`
  | 'cure.due'
  | 'cure.running'
  | 'sand'
  | 'polish'
  | 'finished'
  | 'passed'
  | 'removed'

type PanelValue = {
  readonly route: string | Readonly<Record<string, string>>
  readonly attention: 'awake' | 'paused'
}

/** The state of the walk, as a dotted path such as "clear.between". */
export function routeState(value: unknown): PanelState {
  const { route } = value as PanelValue
  if (typeof route === 'string') return route as PanelState
  const [stage, phase] = Object.entries(route)[0] ?? ['unknown', '']
  return `${stage}.${phase}` as PanelState
}

export const isPaused = (value: unknown): boolean => (value as PanelValue).attention === 'paused'

/** The current stage; null before the walk begins, after its last step, and at its end. */
export function stageIn(where: PanelState): Stage | null {
  switch (where) {
    case 'unknown':
    case 'finished':
    case 'passed':
    case 'removed':
      return null
    default:
      return where.split('.')[0] as Stage
  }
}

/** The phase of a sprayed stage; null outside one. */
export function sprayPhase(where: PanelState): SprayPhase | null {
  const [stage, phase] = where.split('.')
  return stage === 'cure' || phase === undefined ? null : (phase as SprayPhase)
}

export const isCoating = (where: PanelState): boolean => sprayPhase(where) === 'coating'

/** Whether the panel is in progress: known, and neither passed nor removed from its job. */
export const isInWork = (where: PanelState): boolean =>
  where !== 'unknown' && where !== 'passed' && where !== 'removed'
