import { deadlines } from '../../machines/deadlines.ts'
import type { JobContext } from '../../machines/job/machine.ts'
import { zoneOf } from '../../machines/panel/context.ts'
import type { State } from '../../machines/state.ts'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { ReadyAsks } from '../lanes/readyAsk.tsx'
import { readyAsksOf } from '../lanes/readyAsks.ts'
import { zoneWord } from '../lanes/zones.ts'
import { Answer } from '../ui/answer.tsx'
import { Hold, Press } from '../ui/buttons.tsx'
import { PageHead } from '../ui/parts.tsx'
import { SaveJob } from '../ui/saveJob.tsx'
import { historyIn } from '../words/historyIn.ts'
import { FoundLater } from './foundLater.tsx'
import { COLOUR, HISTORY, jobsPath, PANEL, PANELS, panelStateText } from './names.ts'
import { Notes } from './notes.tsx'
import { areaText } from './outline.ts'
import { NothingToDo, RemovedPanels } from './panelEnd.tsx'
import { StepMarks } from './panelParts.tsx'
import {
  isAsked,
  type PanelView,
  panelsOf,
  polishDue,
  prepDue,
  sandDue,
  stepsOf,
} from './panelView.ts'

type Props = {
  readonly state: State
  readonly id: string
  readonly job: JobContext
  readonly now: number
}

/** A job: its panels and their steps, what is done to all of them, notes and photos. */
export function JobPage({ state, id, job, now }: Props) {
  const { words, format } = useShop()
  const { jobs } = words.value
  const { sending, ask, all, again } = useCommands()
  const is = state.things.job[id]?.value
  const panels = panelsOf(state, id)
  const due = prepDue(panels)
  const [sand, polish] = [sandDue(panels), polishDue(panels)]
  const acts = [
    { type: 'DoPrepStep', datas: [...due, ...(sand.length > 1 ? sand : [])] },
    { type: 'PolishPanel', datas: polish.length > 1 ? polish : [] },
  ] as const
  const asks = is === 'closed' ? [] : readyAsksOf(state, acts, now)
  const reopen = async () => {
    const sent = await ask('ReopenJob', { job: id })
    // A job that this kiosk had evicted comes back whole with the state.
    if (isTaken(sent) && panels.length === 0) location.reload()
  }
  const isAllPassed = panels.length > 0 && panels.every(({ where }) => where === 'passed')
  const hasBell = isAsked(deadlines(state), id, now)
  const closeNow = () => void ask('CloseJob', { job: id })
  return (
    <div class="form jobs">
      <PageHead title={job.title} back={jobs.title} backTo={jobsPath()}>
        <span class="digits">{id}</span>
      </PageHead>
      <p class="minor">
        {[
          job.vehicle ?? '',
          ...job.colours.map((c) => [c.key, c.code, c.variant].filter(Boolean).join(' ')),
        ]
          .filter((text) => text !== '')
          .join(' · ')}
      </p>
      {is === 'paused' && <p class="sentence">{jobs.paused}</p>}
      {is === 'closed' && (
        <p class="sentence">{jobs.isClosed(format.value.timeAndDay(job.closedAt ?? 0, now))}</p>
      )}
      <FoundLater job={id} />
      <Answer sending={sending.value} now={now} onOverride={(reason) => void again(reason)} />
      {is !== 'closed' && <NothingToDo panels={panels} />}
      <ReadyAsks state={state} asks={asks} now={now} />
      <ul class="rows job-rows">
        {panels.map((view) => (
          <PanelRow key={view.id} state={state} job={id} view={view} />
        ))}
      </ul>
      {is !== 'closed' && (
        <div class="acts">
          {due.length > 0 && (
            <Press
              act="prepDone"
              isMain
              isOff={sending.value.busy}
              onPress={() => all('DoPrepStep', due)}
            >
              {jobs.prepDone(due.length)}
            </Press>
          )}
          {sand.length > 1 && (
            <Press act="sandDone" onPress={() => all('DoPrepStep', sand)}>
              {jobs.allDone(words.value.stage.sand, sand.length)}
            </Press>
          )}
          {polish.length > 1 && (
            <Press act="polishDone" onPress={() => all('PolishPanel', polish)}>
              {jobs.allDone(words.value.stage.polish, polish.length)}
            </Press>
          )}
          <a
            class={due.length > 0 || isAllPassed ? 'button' : 'button main'}
            href={jobsPath(id, PANELS)}
          >
            {jobs.addPanels}
          </a>
        </div>
      )}
      <RemovedPanels state={state} job={id} now={now} />
      <Notes state={state} id={id} job={job} now={now} />
      <div class="acts">
        <a class="button" href={jobsPath(id, HISTORY)}>
          {historyIn(words.value).title}
        </a>
        <a class="button" href={jobsPath(id, COLOUR)}>
          {jobs.colourCheck}
        </a>
        {is === 'closed' ? (
          <Press act="ReopenJob" onPress={reopen}>
            {jobs.reopen}
          </Press>
        ) : (
          <>
            <Press
              act={is === 'paused' ? 'ResumeJob' : 'PauseJob'}
              onPress={() => ask(is === 'paused' ? 'ResumeJob' : 'PauseJob', { job: id })}
            >
              <span>
                {is === 'paused' ? jobs.resume : jobs.pause}
                {is !== 'paused' && <small>{jobs.pauseWhy}</small>}
              </span>
            </Press>
            <span class="apart" data-act="CloseJob">
              {hasBell ? (
                <Hold onHeld={closeNow}>
                  <span>
                    {jobs.closeJob}
                    <small>{jobs.closeHeld}</small>
                  </span>
                </Hold>
              ) : (
                <Press isMain={isAllPassed} onPress={closeNow}>
                  {jobs.closeJob}
                </Press>
              )}
            </span>
          </>
        )}
      </div>
      <SaveJob job={id} />
    </div>
  )
}

function PanelRow({ state, job, view }: { state: State; job: string; view: PanelView }) {
  const { words } = useShop()
  const { zones } = words.value
  const { panel, where } = view
  const said = [
    words.value.operation[panel.operation],
    zoneWord(state, zones, zoneOf(panel)),
    panel.areaM2 === null ? '' : areaText(panel.areaM2),
    panelStateText(where, words.value),
  ]
  return (
    <li>
      <a
        class="button row"
        href={jobsPath(job, PANEL, view.id)}
        data-panel={view.id}
        data-where={where}
      >
        <b>
          {where === 'passed' && <span aria-hidden="true">✓ </span>}
          {panel.name}
        </b>
        <span class="minor">{said.filter((text) => text !== '').join(' · ')}</span>
        <StepMarks steps={stepsOf(view)} />
      </a>
    </li>
  )
}
