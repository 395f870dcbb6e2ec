import type { FoundLaterAnswer } from '../../machines/contract/foundLater.ts'
import { byOccurrence } from '../../machines/envelope.ts'
import { foundSince } from '../../machines/trace/foundSince.ts'
import { ownEntries } from '../jobEntries.ts'
import type { Reader } from '../reading.ts'
import { traceEntries } from '../traceEntries.ts'
import { workTurn } from '../turn.ts'
import type { JobIndex } from './index.ts'

/** Jobs that are told anew for one answer; the rest for the next ones. */
const LOOKED_MOST = 8
const SHOWN_MOST = 50

type Sources = { readonly reader: Reader; readonly index: JobIndex; readonly head: number }

/**
 * Jobs about which something came late and made a limit broken that nobody has decided about, the last first.
 * A job is told anew only where something of it came since it was looked at.
 */
export async function jobsFoundLater({
  reader,
  index,
  head,
}: Sources): Promise<Omit<FoundLaterAnswer, 'behind'>> {
  for (const { job, position } of index.toLook(LOOKED_MOST)) {
    const own = await ownEntries(job, head, reader)
    await workTurn()
    const entries = (await traceEntries(own, head, reader)).sort(byOccurrence)
    await workTurn()
    const { isClosed, deviations } = foundSince(entries, job)
    index.looked({ job, position, found: deviations.length, isClosed })
    await workTurn()
  }
  return {
    jobs: index.foundLater(SHOWN_MOST),
    toLook: index.toLook(Number.MAX_SAFE_INTEGER).length,
  }
}
