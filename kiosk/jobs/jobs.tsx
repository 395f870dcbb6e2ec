import { useShop } from '../commands/shop.ts'
import { PageHead } from '../ui/pageHead.tsx'
import type { ViewProps } from '../ui/view.ts'
import { AddPanels } from './addPanels.tsx'
import { CloseDay } from './closeDay.tsx'
import { History } from './history.tsx'
import { JobPage } from './jobPage.tsx'
import { JobList } from './list.tsx'
import { OpenJob } from './openJob.tsx'
import { PanelPage } from './panelPage.tsx'
import { jobOf, panelsOf } from './panelView.ts'
import { CLOSE_DAY, HISTORY, jobsPath, NEW_JOB, PANEL, PANELS } from './paths.ts'

/** Jobs: the list, or what the route names below it. */
export function Jobs({ kiosk, rest }: ViewProps) {
  const { state: known } = useShop()
  const state = known.value
  const now = kiosk.reading.value.nowMs
  if (!state) return <p class="minor">…</p>
  const [id, page, panel] = rest
  if (id === undefined) return <JobList state={state} />
  if (id === NEW_JOB) return <OpenJob now={now} />
  if (id === CLOSE_DAY) return <CloseDay state={state} now={now} />
  if (page === HISTORY) return <History key={id} state={state} job={id} now={now} />
  const job = jobOf(state, id)
  if (!job) return <NoJob id={id} />
  const about = { state, id, job, now }
  if (page === PANELS) return <AddPanels key={id} {...about} />
  const view = panelsOf(state, id).find((one) => one.id === panel)
  if (page === PANEL && view) return <PanelPage key={view.id} {...about} view={view} />
  return <JobPage key={id} {...about} />
}

function NoJob({ id }: { id: string }) {
  const { jobs } = useShop().words.value
  return (
    <div class="form jobs">
      <PageHead title={id} back={jobs.title} backTo={jobsPath()} />
      <p class="sentence">{jobs.unknown(id)}</p>
      <a class="button" href={jobsPath(id, HISTORY)}>
        {jobs.seeHistory}
      </a>
    </div>
  )
}
