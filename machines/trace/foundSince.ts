import type { Entry } from '../envelope.ts'
import { voidedIn } from '../live.ts'
import { type Deviation, deviationsIn } from './deviations.ts'
import { foundLater } from './foundLater.ts'
import { traced } from './trace.ts'

/** Broken limits that no close has asked about, since the log did not know them then. */

export type FoundSince = {
  readonly isClosed: boolean
  readonly deviations: readonly Deviation[]
}

/** Where in the log a job was closed; null for one that is open. */
function closedAt(entries: readonly Entry[], job: string): number | null {
  const voided = voidedIn(entries)
  const last = entries
    .filter(({ type }) => type === 'JobClosed' || type === 'JobReopened')
    .filter((e) => e.job === job && !voided.has(e.id))
    .toSorted((a, b) => a.position - b.position)
    .at(-1)
  return last?.type === 'JobClosed' ? last.position : null
}

/**
 * What came to be known of a job too late for its close and is not decided about: facts that were recorded
 * after it, and limits that a late fact showed to be broken. The job stays as it is: closed or open.
 * A close asks about what entries say themselves; what is found later it cannot, since the air of days ago
 * is no longer held where it is decided.
 * @param entries that the job is traced by, from the log
 */
export function foundSince(entries: readonly Entry[], job: string): FoundSince {
  const closed = closedAt(entries, job)
  const isAfter = ({ position }: Deviation) =>
    closed !== null && position !== null && position > closed
  const told = deviationsIn(entries).filter((one) => one.kind === 'outside' && isAfter(one))
  const all = traced(entries)
  const own = new Set(all.panels.map(({ id }) => id))
  return {
    isClosed: closed !== null,
    deviations: [...told, ...foundLater(all)].filter(
      ({ isVoided, disposition, where }) =>
        !isVoided && disposition.entry === null && (where.panel === null || own.has(where.panel)),
    ),
  }
}
