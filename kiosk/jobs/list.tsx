import { useSignal } from '@preact/signals'
import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import { Field } from '../forms/textField.tsx'
import { jobsOf, panelsOf } from './panelView.ts'
import { CLOSE_DAY, HISTORY, jobsPath, NEW_JOB } from './paths.ts'

/** The jobs that are open, and the ways to those that are not. */
export function JobList({ state }: { state: State }) {
  const { jobs } = useShop().words.value
  const { open, closed } = jobsOf(state)
  return (
    <div class="form jobs">
      <div class="acts">
        <a class="button main" href={jobsPath(NEW_JOB)}>
          {jobs.newJob}
        </a>
        <a class="button" href={jobsPath(CLOSE_DAY)}>
          {jobs.closeDay}
        </a>
      </div>
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
      <OlderJob />
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
  const { words } = useShop()
  const { jobs, wall } = words.value
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

/** A job closed long ago is no longer on the kiosk; the log has its history. */
function OlderJob() {
  const { jobs } = useShop().words.value
  const id = useSignal('')
  const show = (event: Event) => {
    event.preventDefault()
    const typed = id.value.trim().toUpperCase()
    if (typed !== '') location.hash = jobsPath(typed, HISTORY)
  }
  return (
    <form class="older" onSubmit={show}>
      <Field
        name="older"
        word={jobs.findClosed}
        value={id.value}
        onInput={(text) => {
          id.value = text
        }}
      />
      <button type="submit">{jobs.find}</button>
    </form>
  )
}
