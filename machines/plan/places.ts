import { type PanelContext, zoneOf } from '../panel/context.ts'
import { isSprayed } from '../sheet/schema.ts'
import type { State } from '../state.ts'

/** How many jobs a zone holds at once, and which are in it. A job is in from its first coat to its last cure. */

type Inside = Map<string, number | null>
type Standing = { readonly panel: PanelContext }

const hasFilmAhead = ({ route, status }: PanelContext): boolean =>
  route.some(({ stage }, i) => status[i] === 'open' && (isSprayed(stage) || stage === 'cure'))

export class Places {
  readonly #most = new Map<string, number>()
  /** By zone the jobs in it, and when each leaves; null while nobody knows. */
  readonly #inside = new Map<string, Inside>()

  constructor(state: State, panels: readonly Standing[]) {
    for (const [zone, { context }] of Object.entries(state.things.zone))
      if (context.spec?.fitsJobs !== undefined) this.#most.set(zone, context.spec.fitsJobs)
    for (const { panel } of panels)
      if (panel.coats.length > 0 && hasFilmAhead(panel)) this.enter(panel)
  }

  /** When a job may come in, from an instant on; null while that is not known. */
  from(panel: PanelContext, at: number): number | null {
    const { job } = panel
    const zone = zoneOf(panel)
    const most = this.#most.get(zone)
    const inside = this.#inside.get(zone)
    if (most === undefined || !inside || inside.has(job)) return at
    const leaving = [...inside.values()].map((leavesAt) => leavesAt ?? Number.POSITIVE_INFINITY)
    const later = leaving.filter((leavesAt) => leavesAt > at).sort((a, b) => a - b)
    if (later.length < most) return at
    const freeAt = later[later.length - most] as number
    return Number.isFinite(freeAt) ? freeAt : null
  }

  enter(panel: PanelContext): void {
    const zone = zoneOf(panel)
    if (!this.#most.has(zone)) return
    const inside = this.#inside.get(zone) ?? new Map<string, number | null>()
    inside.set(panel.job, null)
    this.#inside.set(zone, inside)
  }

  /**
   * A job leaves with the last of its panels in a zone.
   * @param panels those that go on
   */
  leave(panel: PanelContext, panels: readonly Standing[], at: number): void {
    const inside = this.#inside.get(zoneOf(panel))
    if (!inside?.has(panel.job)) return
    const isIn = (other: PanelContext) =>
      other.job === panel.job && zoneOf(other) === zoneOf(panel) && hasFilmAhead(other)
    if (panels.some((other) => isIn(other.panel))) return
    inside.set(panel.job, Math.max(at, inside.get(panel.job) ?? 0))
  }
}
