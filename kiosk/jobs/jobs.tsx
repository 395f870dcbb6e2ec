import { useSignal } from '@preact/signals'
import type { JobContext } from '../../machines/job/machine.ts'
import { OPERATIONS, type Operation, type PanelContext } from '../../machines/panel/context.ts'
import { routeState } from '../../machines/panel/machine.ts'
import { currentSheets, usualRoute } from '../../machines/plan/route.ts'
import type { State } from '../../machines/state.ts'
import { hashOf } from '../route.ts'
import type { ViewProps } from '../shell.tsx'
import { Answer } from '../shop/answer.tsx'
import { Choice } from '../shop/choice.tsx'
import { useShop } from '../shop/context.ts'
import { thingId } from '../shop/ids.ts'
import { isTaken } from '../shop/send.ts'
import { useSend } from '../shop/useSend.ts'
import { Field } from './field.tsx'

const BODY = 'body'

/** The jobs that are open, and a form for one more. */
export function Jobs({ kiosk, rest }: ViewProps) {
  const { state } = useShop()
  if (!state.value) return <p class="minor">…</p>
  const now = kiosk.reading.value.nowMs
  const job = rest[0]
  return job && job in state.value.things.job ? (
    <OneJob state={state.value} job={job} now={now} />
  ) : (
    <AllJobs state={state.value} now={now} />
  )
}

function AllJobs({ state, now }: { state: State; now: number }) {
  const { words } = useShop()
  const { jobs } = words.value
  const { sending, ask } = useSend()
  const title = useSignal('')
  const colour = useSignal('')
  const open = Object.entries(state.things.job).filter(
    ([, t]) => t.value === 'open' || t.value === 'paused',
  )
  const panelsOf = (id: string) =>
    Object.values(state.things.panel).filter((t) => (t.context as PanelContext).job === id).length
  const submit = async (event: Event) => {
    event.preventDefault()
    const job = thingId()
    const colours = colour.value.trim() === '' ? [] : [{ key: BODY, code: colour.value.trim() }]
    const sent = await ask('OpenJob', { job, title: title.value, colours })
    if (isTaken(sent)) location.hash = hashOf('jobs', job)
  }
  return (
    <div class="form">
      {open.length === 0 && <p class="minor">{jobs.none}</p>}
      <ul class="rows">
        {open.map(([id, t]) => (
          <li key={id}>
            <a class="button row" href={hashOf('jobs', id)}>
              <b>{(t.context as JobContext).title}</b>
              <span class="minor digits">
                {id} · {jobs.panels(panelsOf(id))}
              </span>
            </a>
          </li>
        ))}
      </ul>
      <form onSubmit={(e) => void submit(e)}>
        <h2>{jobs.title}</h2>
        <Field name="title" word={jobs.name} value={title} required />
        <Field name="colour" word={jobs.colour} value={colour} />
        <Answer sending={sending.value} now={now} />
        <button type="submit" class="main" disabled={sending.value.busy}>
          {jobs.open}
        </button>
      </form>
    </div>
  )
}

function OneJob({ state, job, now }: { state: State; job: string; now: number }) {
  const { words } = useShop()
  const { jobs } = words.value
  const { sending, ask } = useSend()
  const context = state.things.job[job]?.context as JobContext
  const panels = Object.entries(state.things.panel).filter(
    ([, t]) => (t.context as PanelContext).job === job,
  )
  return (
    <div class="form">
      <h2>
        {context.title} <span class="minor digits">{job}</span>
      </h2>
      <ul class="rows">
        {panels.map(([id, t]) => {
          const panel = t.context as PanelContext
          return (
            <li key={id} class="row">
              <b>{panel.name}</b>
              <span class="minor">
                {words.value.operation[panel.operation]} · {routeState(t.value).split('.')[0]} ·{' '}
                {panel.route.map((s) => words.value.stage[s.stage]).join(' → ')}
              </span>
            </li>
          )
        })}
      </ul>
      <AddPanel state={state} job={job} colour={context.colours[0]?.key} now={now} />
      <Answer
        sending={sending.value}
        now={now}
        onOverride={(reason) => void ask('CloseJob', { job, override: { reason } })}
      />
      <button
        type="button"
        disabled={sending.value.busy}
        onClick={() => void ask('CloseJob', { job })}
      >
        {jobs.closeJob}
      </button>
    </div>
  )
}

type AddProps = {
  readonly state: State
  readonly job: string
  readonly colour: string | undefined
  readonly now: number
}

function AddPanel({ state, job, colour, now }: AddProps) {
  const { words } = useShop()
  const { jobs } = words.value
  const { sending, ask } = useSend()
  const name = useSignal('')
  const area = useSignal('1')
  const operation = useSignal<string>('repair')
  const material = useSignal('')
  const sheets = currentSheets(state)
  const route = usualRoute(operation.value as Operation, material.value !== '', sheets, colour)
  const submit = async (event: Event) => {
    event.preventDefault()
    const areaM2 = Number(area.value.replace(',', '.'))
    const sent = await ask('AddPanel', {
      job,
      panel: thingId(),
      name: name.value,
      operation: operation.value,
      ...(area.value.trim() === '' ? {} : { areaM2 }),
      ...(material.value === '' ? {} : { substrate: material.value }),
      route,
    })
    if (isTaken(sent)) name.value = ''
  }
  if (sheets.length === 0) return <p class="sentence">{jobs.noSheets}</p>
  return (
    <form onSubmit={(e) => void submit(e)}>
      <h2>{jobs.addPanel}</h2>
      <Field name="panel" word={jobs.panelName} value={name} required />
      <Field name="area" word={jobs.area} value={area} />
      <Choice
        name={jobs.operation}
        picked={operation}
        options={OPERATIONS.map((value) => ({ value, word: words.value.operation[value] }))}
      />
      {operation.value === 'new-part' && (
        <Choice
          name={jobs.plastic}
          picked={material}
          options={[
            { value: '', word: words.value.bench.none },
            { value: 'plastic', word: jobs.plastic },
          ]}
        />
      )}
      <p class="minor">
        {jobs.route}: {route.map((s) => words.value.stage[s.stage]).join(' → ')}
      </p>
      <Answer sending={sending.value} now={now} />
      <button type="submit" class="main" disabled={sending.value.busy}>
        {jobs.add}
      </button>
    </form>
  )
}
