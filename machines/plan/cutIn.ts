import type { RouteStep } from '../commands.ts'

/** The stages whose coats make the color and what lies over it. */
const CUT_IN: readonly RouteStep['stage'][] = ['base', 'midcoat', 'clear', 'single-stage']

/**
 * A route for a part that is off the vehicle: its color and clear go on the edges and inner faces first, and
 * once it hangs on the whole face. Common practice, no source.
 * @returns the same route where it has no color, or edges already
 */
export function withEdgesFirst(route: readonly RouteStep[]): readonly RouteStep[] {
  const from = route.findIndex(({ stage }) => CUT_IN.includes(stage))
  if (from === -1 || route.some(({ face }) => face === 'edges')) return route
  const rest = route.slice(from)
  const end = rest.findIndex(({ stage }) => !CUT_IN.includes(stage))
  const edges = (end === -1 ? rest : rest.slice(0, end)).map(
    (step): RouteStep => ({ ...step, face: 'edges' }),
  )
  return [...route.slice(0, from), ...edges, ...rest]
}
