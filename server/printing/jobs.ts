import type { PrintJob } from '../../machines/contract/printing.ts'
import { keptText, readKept } from '../log/keptJson.ts'
import type { SideStore } from '../log/log.ts'

/** What waits for a printer, beside the log: a restart goes on with it. */

const KEY = 'print jobs'
/** How many of those that ended are remembered: the same id again is then the same print. */
const ENDED_MOST = 50

export type Jobs = {
  readonly all: () => readonly PrintJob[]
  readonly open: () => readonly PrintJob[]
  readonly find: (id: string) => PrintJob | undefined
  /** Resolves when it is durable. */
  readonly put: (job: PrintJob) => Promise<void>
}

/** @throws LogError where the store cannot be read */
export async function openJobs(
  store: Pick<SideStore, 'getMeta' | 'putMeta'>,
  report: (error: unknown) => void,
): Promise<Jobs> {
  let jobs = await keptJobs(store, report)
  return {
    all: () => jobs,
    open: () => jobs.filter(isOpen),
    find: (id) => jobs.find((job) => job.id === id),
    async put(job) {
      const isNew = !jobs.some((one) => one.id === job.id)
      const all = isNew ? [...jobs, job] : jobs.map((one) => (one.id === job.id ? job : one))
      const ended = all.filter((one) => !isOpen(one)).slice(-ENDED_MOST)
      jobs = all.filter((one) => isOpen(one) || ended.includes(one))
      await store.putMeta(KEY, keptText(jobs))
    },
  }
}

export const isOpen = ({ step }: PrintJob): boolean => step !== 'done' && step !== 'failed'

async function keptJobs(
  store: Pick<SideStore, 'getMeta'>,
  report: (error: unknown) => void,
): Promise<readonly PrintJob[]> {
  const text = await store.getMeta(KEY)
  if (text === null) return []
  const kept = readKept<readonly PrintJob[]>(text)
  if (!kept) report('What waited for a printer was damaged on the disk. Print it again.')
  return kept?.value ?? []
}
