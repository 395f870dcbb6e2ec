import type { State } from '../state.ts'
import { climateOf, isAirKnown } from './climate.ts'
import type { PanelContext } from './context.ts'
import type { Gate } from './gate.ts'
import type { OpensBy, Shutter } from './shutters.ts'

/** What a gate says at an instant. */

const opens = (s: Shutter) => s.opensAgainAt ?? Number.POSITIVE_INFINITY
const allShutAt = (gate: Gate, at: number) =>
  gate.shutters.filter((s) => at >= s.shutsAt && at < opens(s))

/** What blocks a coat at an instant: of several reasons the one that ends last, if ever. */
export function shutAt(gate: Gate, at: number): Shutter | undefined {
  const shut = allShutAt(gate, at)
  const last = Math.max(...shut.map(opens))
  return shut.find((s) => opens(s) === last)
}

/** In the order of the work: what has to be abraded is abraded before it is coated. */
const BY: readonly OpensBy[] = ['abrade', 'abradeAndRecoat', 'recoat', 'reapply']

/** What opens a gate that is shut at an instant; null where it is not, or no work on the panel does. */
export function opensByAt(gate: Gate, at: number): OpensBy | null {
  const all = allShutAt(gate, at)
  return BY.find((by) => all.some(({ opensBy }) => opensBy === by)) ?? null
}

/** The earliest moment at which a window closes later; null when none does. */
export function shutsAt(gate: Gate): number | null {
  const ends = gate.shutters.filter((s) => s.why === 'window').map((s) => s.shutsAt)
  return ends.length === 0 ? null : Math.min(...ends)
}

/**
 * Whether the air is held that a gate's clocks ran in, until an instant or until they had ended. What
 * is said of a time long past may be older than what a zone keeps.
 */
export function isGateKnown(state: State, panel: PanelContext, gate: Gate, at: number): boolean {
  const { sinceMs, flashEndsAt, lookAt, shutters } = gate
  const ends = shutters.flatMap((s) => [s.shutsAt, s.opensAgainAt ?? s.shutsAt])
  const until = Math.max(flashEndsAt ?? at, lookAt ?? 0, ...ends)
  return isAirKnown(climateOf(state, panel), sinceMs, Math.min(at, until))
}

/** A gate that judges by what was done alone: its air is not known, so its clocks say nothing. */
export const withoutClocks = (gate: Gate): Gate => ({
  ...gate,
  flashEndsAt: gate.after.finishedAt,
  lookAt: null,
  shutters: gate.shutters.filter(({ why }) => why !== 'window'),
})
