import type { CupContext } from '../cup/machine.ts'
import type { Draft } from '../envelope.ts'
import type { State } from '../state.ts'
import { type Deviation, deviationsIn } from './deviations.ts'

/** Limits that a job's recorded facts broke and about which nobody has decided yet. */

/**
 * An override names its own reason, and what was taken back was never broken: neither is open. One that is
 * watched because somebody said so is decided.
 * @param panels of the job; what was removed from it counts no more
 */
export function openDeviations(state: State, job: string, panels: readonly string[]): Deviation[] {
  const { job: jobs, panel, cup } = state.things
  // Of a cup for several jobs, the one that it was mixed for and those on whose panels it is.
  const isOf = ({ job: first, alsoFor = [], usedOn }: CupContext) =>
    first === job || (alsoFor.includes(job) && usedOn.some((id) => panels.includes(id)))
  const cups = Object.values(cup).filter(({ context }) => isOf(context))
  const own = panels.flatMap((id) => panel[id]?.entries ?? [])
  const all: Draft[] = [
    ...(jobs[job]?.entries ?? []).filter((e) => e.panel === undefined),
    ...own,
    ...cups.flatMap(({ entries }) => entries).filter((e) => e.panel === undefined),
  ]
  // In most jobs none was broken, and then nothing is to be decided.
  if (!all.some(({ outside = [] }) => outside.length > 0)) return []
  const once = [...new Map(all.map((entry) => [entry.id, entry])).values()]
  return deviationsIn(once).filter(
    ({ kind, isVoided, disposition }) =>
      kind === 'outside' && !isVoided && disposition.entry === null,
  )
}
