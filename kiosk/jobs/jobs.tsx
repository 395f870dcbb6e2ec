import type { State } from '../../machines/state.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { again } from '../ui/again.ts'
import { OF, RECORDS } from '../ui/chainLink.tsx'
import { PageHead } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import { later, type ViewProps } from '../ui/screen.tsx'
import * as chainWords from '../words/chain.ts'
import * as recordWords from '../words/recordsPage.ts'
import { useOwnWords } from '../words/words.ts'
import { AddPanels } from './addPanels.tsx'
import { CloseDay } from './closeDay.tsx'
import { FindJob } from './findJob.tsx'
import { FoundLater } from './foundLater.tsx'
import { History } from './history.tsx'
import { JobPage } from './jobPage.tsx'
import { CLOSE_DAY, COLOUR, DAY_PLAN, HISTORY, jobsPath, NEW_JOB, PANEL, PANELS } from './names.ts'
import { OpenJob } from './openJob.tsx'
import { RemovedPanel } from './panelEnd.tsx'
import { PanelPage } from './panelPage.tsx'
import { isRemoved, jobOf, jobsOf, panelsOf } from './panelView.ts'

const ColourPage = later(async () => (await again(() => import('./colourPage.tsx'))).ColourPage)
/** Planning is fetched with its page alone. */
const DayPlan = later(async () => (await again(() => import('./dayPlan.tsx'))).DayPlan)

/** Jobs: the list, or what the route names below it. */
export function Jobs({ kiosk, rest }: ViewProps) {
  const { state: known } = useShop()
  const state = known.value
  const now = kiosk.reading.value.nowMs
  if (!state) return <p class="minor">…</p>
  const [id, page, panel] = rest
  if (id === undefined) return <JobList state={state} now={now} />
  if (id === NEW_JOB) return <OpenJob now={now} />
  if (id === DAY_PLAN) return <DayPlan state={state} now={now} />
  if (id === CLOSE_DAY) return <CloseDay state={state} now={now} />
  if (page === HISTORY) return <History key={id} state={state} job={id} opened={panel} now={now} />
  const job = jobOf(state, id)
  if (!job) return <NoJob id={id} />
  const about = { state, id, job, now }
  if (page === PANELS) return <AddPanels key={id} {...about} />
  if (page === COLOUR) return <ColourPage key={id} {...about} />
  const view = panelsOf(state, id).find((one) => one.id === panel)
  if (page === PANEL && view) return <PanelPage key={view.id} {...about} view={view} />
  if (page === PANEL && panel && isRemoved(state, panel, id))
    return <RemovedPanel state={state} job={id} panel={panel} now={now} />
  return <JobPage key={id} {...about} />
}

function NoJob({ id }: { id: string }) {
  const { jobs } = useWords()
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

/** The jobs that are open, and the ways to those that are not. */
function JobList({ state, now }: { state: State; now: number }) {
  const { jobs } = useWords()
  const records = useOwnWords(recordWords)
  const chain = useOwnWords(chainWords)
  const { open, closed } = jobsOf(state)
  return (
    <div class="form jobs">
      <div class="acts">
        <a class="button main" href={jobsPath(NEW_JOB)}>
          {jobs.newJob}
        </a>
        <a class="button" href={jobsPath(DAY_PLAN)}>
          {jobs.dayPlan}
        </a>
        <a class="button" href={jobsPath(CLOSE_DAY)}>
          {jobs.closeDay}
        </a>
        <a class="button" data-act="records" href={hashOf('trace', RECORDS)}>
          {records.open}
        </a>
        <a class="button" data-act="lots" href={hashOf('trace', OF)}>
          {chain.lots}
        </a>
      </div>
      <FoundLater />
      <FindJob state={state} now={now}>
        {open.length === 0 && (
          <section class="empty">
            <h2>{jobs.none}</h2>
            <p>{jobs.noneHint}</p>
          </section>
        )}
        <ul class="rows job-rows">
          {open.map(({ id, job, isPaused }) => (
            <JobRow key={id} state={state} id={id} title={job.title} isPaused={isPaused} />
          ))}
        </ul>
        {closed.length > 0 && <h2>{jobs.closed}</h2>}
        <ul class="rows job-rows">
          {closed.map(({ id, job }) => (
            <JobRow key={id} state={state} id={id} title={job.title} isPaused={false} />
          ))}
        </ul>
      </FindJob>
    </div>
  )
}

type RowProps = {
  readonly state: State
  readonly id: string
  readonly title: string
  readonly isPaused: boolean
}

function JobRow({ state, id, title, isPaused }: RowProps) {
  const { jobs, wall } = useWords()
  const panels = panelsOf(state, id)
  const passed = panels.filter(({ where }) => where === 'passed').length
  const said = [
    id,
    jobs.panels(panels.length),
    panels.length > 0 ? jobs.passed(passed, panels.length) : '',
    isPaused ? wall.paused : '',
  ]
  return (
    <li>
      <a class="button row" href={jobsPath(id)} data-job={id}>
        <b>{title}</b>
        <span class="minor">{said.filter((text) => text !== '').join(' · ')}</span>
      </a>
    </li>
  )
}
