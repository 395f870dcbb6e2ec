import { useSignal } from '@preact/signals'
import type { RouteStep } from '../../machines/commands.ts'
import type { JobContext } from '../../machines/job/machine.ts'
import { dueStep, zoneOf } from '../../machines/panel/context.ts'
import { isCoating, stageIn } from '../../machines/panel/where.ts'
import { currentSheets } from '../../machines/plan/route.ts'
import { fixedSteps, routeOf } from '../../machines/plan/routeEdit.ts'
import { problemsAhead } from '../../machines/plan/routeProblems.ts'
import { isSprayed } from '../../machines/sheet/schema.ts'
import type { State } from '../../machines/state.ts'
import { isTaken } from '../commands/send.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { type Commands, isRefused, useCommands } from '../commands/useCommands.ts'
import { PartIsCool } from '../lanes/heatAround.tsx'
import { endsCool, HOT_FORBIDS, hotUntil } from '../lanes/heatNow.ts'
import { LaneWays } from '../lanes/laneWays.tsx'
import { Moment } from '../lanes/moment.ts'
import { ReadyAsks } from '../lanes/readyAsk.tsx'
import { readyAskOf, readyAsksOf } from '../lanes/readyAsks.ts'
import { RoomWays } from '../lanes/roomWays.tsx'
import { zoneWord } from '../lanes/zones.ts'
import { Answer } from '../ui/answer.tsx'
import { Hold, Press } from '../ui/buttons.tsx'
import { ChainLink } from '../ui/chainLink.tsx'
import { fromHere } from '../ui/here.ts'
import { Choice, Fold, PageHead } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import { jobsPath, panelStateText } from './names.ts'
import { areaText } from './outline.ts'
import { CurePart, SendBack, SkipStep } from './panelActs.tsx'
import { Passed } from './panelEnd.tsx'
import { StepList, ZoneChoice } from './panelParts.tsx'
import {
  isCureDue,
  isCuring,
  mayChange,
  type PanelView,
  panelsOf,
  prepDue,
  stepsOf,
} from './panelView.ts'
import { RouteEditor } from './routeEditor.tsx'
import { WayOn } from './wayOn.tsx'

type Props = {
  readonly state: State
  readonly id: string
  readonly job: JobContext
  readonly view: PanelView
  readonly now: number
}

/** One panel: its route, its step, and everything that is not done with a gun. */
export function PanelPage({ state, id: jobId, job, view, now }: Props) {
  const { words } = useShop()
  const { jobs, zones } = words.value
  const commands = useCommands()
  const { sending, again, clear } = commands
  const { id, panel, where } = view
  const said = [
    job.title,
    words.value.operation[panel.operation],
    panel.substrate === null ? '' : (jobs.substrates[panel.substrate] ?? panel.substrate),
    panel.areaM2 === null ? '' : areaText(panel.areaM2),
    zoneWord(state, zones, zoneOf(panel)),
    panelStateText(where, words.value),
  ]
  const due = { type: 'DoPrepStep', datas: [{ panel: id, step: dueStep(panel) }] } as const
  const asks = readyAsksOf(state, [due], now)
  const { sent } = sending.value
  const refusal = sent?.kind === 'refused' ? sent.refusal.problems[0] : undefined
  // It was to be moved wet to where heat is.
  const coolAt = hotUntil(state, panel, new Moment(now))
  const hotZone = refusal?.code === 'heatInZone' ? refusal.params.value : null
  return (
    <div class="form jobs" data-where={where}>
      <PageHead title={panel.name} back={jobs.back} backTo={jobsPath(jobId)}>
        <span class="digits">{id}</span>
      </PageHead>
      <p class="minor">{said.filter((text) => text !== '').join(' · ')}</p>
      <Answer
        sending={sending.value}
        now={now}
        wayOut={(code) => (
          <>
            {sent?.kind === 'refused' && endsCool(sent.refusal, coolAt) && (
              <PartIsCool panels={[id]} now={now} onTaken={clear} />
            )}
            {hotZone !== null && (
              <RoomWays {...{ state, now }} code="heatInZone" zones={[hotZone]} onTaken={clear} />
            )}
            {hotZone === null && !HOT_FORBIDS.includes(code) && (
              <LaneWays state={state} id={id} commands={commands} now={now} />
            )}
          </>
        )}
        onOverride={(reason) => void again(reason)}
      />
      <Passed view={view} now={now} />
      {asks.length > 0 && <ReadyAsks state={state} asks={asks} now={now} />}
      <Now view={view} commands={commands} now={now} />
      {(isCuring(view) || isCureDue(view)) && (
        <CurePart state={state} view={view} commands={commands} now={now} />
      )}
      <StepList steps={stepsOf(view)} state={state} />
      <div class="acts">
        <Fold word={jobs.move} act="move">
          <ReadyAsks state={state} asks={readyAskOf(state, id, 'handle', now)} now={now} />
          <ZoneChoice
            state={state}
            picked={zoneOf(panel)}
            name={id}
            onPick={(zone) => {
              if (zone !== zoneOf(panel)) void commands.ask('MovePanel', { panel: id, zone })
            }}
          />
        </Fold>
        <ChangeRoute state={state} job={job} view={view} commands={commands} />
        {!isCoating(where) && <SendBack view={view} commands={commands} />}
        {mayChange(view) && <SkipStep view={view} commands={commands} />}
        <ChainLink kind="panel" id={id} />
        <a class="button" href={`/api/labels/panel/${id}.svg`} target="_blank" rel="noreferrer">
          {jobs.tag}
        </a>
        <Fold word={jobs.removePanel} act="remove">
          <Hold
            onHeld={() => {
              const isHere = fromHere()
              void commands.ask('RemovePanel', { panel: id }).then((sent) => {
                if (isTaken(sent) && isHere()) location.hash = jobsPath(jobId)
              })
            }}
          >
            {jobs.holdRemove}
          </Hold>
        </Fold>
      </div>
    </div>
  )
}

type NowProps = { readonly view: PanelView; readonly commands: Commands; readonly now: number }

/** What is expected next, as one large key. */
function Now({ view, commands, now }: NowProps) {
  const { jobs, stage: stages } = useWords()
  const { id, panel, where } = view
  const { sending, ask, all } = commands
  const stage = panel.route[dueStep(panel)]?.stage
  const main = (act: string, word: string, run: () => void) => (
    <div class="acts">
      <Press
        act={act}
        isMain={!isRefused(sending.value, now)}
        isOff={sending.value.busy}
        onPress={run}
      >
        {word}
      </Press>
    </div>
  )
  if (isCoating(where) || (stage && isSprayed(stage)))
    return (
      <div class="acts">
        <a class="button main" href={hashOf('wall')}>
          {jobs.onWall}
        </a>
      </div>
    )
  if (where === 'passed' || stageIn(where) === 'cure') return null
  if (stage === 'prep') {
    const due = prepDue([view])
    return main('prepDone', jobs.prepDone(due.length), () => void all('DoPrepStep', due))
  }
  if (stage === 'polish')
    return main('PolishPanel', jobs.polished, () => void ask('PolishPanel', { panel: id }))
  if (stage === undefined)
    return main('PassPanel', jobs.pass, () => void ask('PassPanel', { panel: id }))
  return main(
    'DoPrepStep',
    jobs.handDone(stages[stage]),
    () => void ask('DoPrepStep', { panel: id, step: dueStep(panel) }),
  )
}

/** Panels of the job that nobody has worked on: they may take the route of another one whole. */
const untouched = (state: State, { id, panel }: PanelView): PanelView[] =>
  panelsOf(state, panel.job).filter(
    (other) => other.id !== id && mayChange(other) && fixedSteps(other.panel) === 0,
  )

type RouteProps = {
  readonly state: State
  readonly job: JobContext
  readonly view: PanelView
  readonly commands: Commands
}

function ChangeRoute({ state, job, view, commands }: RouteProps) {
  const { jobs } = useWords()
  const { id, panel } = view
  // Until something is changed, the current route is shown.
  const changed = useSignal<readonly RouteStep[] | null>(null)
  const also = useSignal<readonly string[]>([])
  if (!mayChange(view)) return null
  const others = untouched(state, view)
  const shared = also.value.filter((one) => others.some((other) => other.id === one))
  const route = changed.value ?? routeOf(panel.route)
  const panels = changed.value === null ? shared : [id, ...shared]
  const sheets = currentSheets(state)
  const save = async () => {
    const isDone = await commands.all(
      'SetRoute',
      panels.map((one) => ({ panel: one, route })),
    )
    if (!isDone) return
    changed.value = null
    also.value = []
  }
  return (
    <Fold word={jobs.changeRoute} act="route" isOpen={problemsAhead(state, panel).length > 0}>
      <p class="minor">{jobs.routeWhy}</p>
      <RouteEditor
        route={route}
        sheets={sheets}
        colours={job.colours}
        fixed={fixedSteps(panel)}
        onChange={(route) => {
          changed.value = route
        }}
      />
      <WayOn state={state} route={route} sheets={sheets} from={fixedSteps(panel)} />
      {others.length > 0 && (
        <Choice
          name="also"
          word={jobs.sameRoute}
          options={others.map((other) => ({ value: other.id, word: other.panel.name }))}
          picked={shared}
          onPick={(one) => {
            const isIn = shared.includes(one)
            also.value = isIn ? shared.filter((other) => other !== one) : [...shared, one]
          }}
        />
      )}
      {panels.length > 0 && (
        <div class="acts">
          <Press act="SetRoute" isMain onPress={save}>
            {panels.length > 1 ? jobs.saveRoutes(panels.length) : jobs.saveRoute}
          </Press>
        </div>
      )}
    </Fold>
  )
}
