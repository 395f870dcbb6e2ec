import { lastCoat } from '../../machines/panel/context.ts'
import { currentSheets } from '../../machines/plan/route.ts'
import { problemsAhead } from '../../machines/plan/routeProblems.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { useWords } from '../commands/shop.ts'
import { hashOf } from '../ui/route.ts'
import { actsIn } from '../words/acts.ts'
import { heatsNotKnown } from './heat.ts'
import type { Lane } from './lanes.ts'
import { ProblemSaid } from './problemSaid.tsx'

type Props = { readonly lane: Lane }

/** A cure is due, and the sheet of what is on the panel knows none: the step is skipped or changed. */
export function NoCure({ lane }: Props) {
  const text = actsIn(useWords())
  if (lane.waits.for !== 'noCure') return null
  return (
    <div class="acts" data-no-way="noCure">
      <p class="sentence">{text.noCure}</p>
      <a class="button main" href={hashOf('jobs', lane.job, 'panel', lane.panel)}>
        {text.skipOrChange}
      </a>
    </div>
  )
}

/** Where the routes of lanes end without a way on: the step that is due, or one to come; and the way out. */
export function NoWayOn({
  state,
  lanes,
}: {
  readonly state: State
  readonly lanes: readonly Lane[]
}) {
  const text = actsIn(useWords())
  const sheets = currentSheets(state)
  const stopped = lanes.flatMap((lane) => {
    const panel = contextOf(state, 'panel', lane.panel)
    return lane.noWay && panel ? [{ lane, panel, isDue: lane.noWay.isDue }] : []
  })
  return (
    <>
      {stopped.map(({ lane, panel, isDue }) => (
        <div class="acts" key={lane.panel} data-no-way={lane.noWay?.code}>
          {lanes.length > 1 && <b>{lane.name}</b>}
          {problemsAhead(state, panel).map((problem) => (
            <ProblemSaid
              key={problem.at}
              {...{ problem, state, sheets }}
              stage={panel.route[problem.at]?.stage ?? 'base'}
            />
          ))}
          <a
            class={isDue ? 'button main' : 'button'}
            data-act="changeStep"
            href={hashOf('jobs', lane.job, 'panel', lane.panel)}
          >
            {text.skipOrChange}
          </a>
        </div>
      ))}
    </>
  )
}

/** Heat is due, and the sheet does not say how long the film flashes before it: it is asked for, once a sheet. */
export function HeatAsk({ lane, state }: Props & { readonly state: State }) {
  const text = actsIn(useWords())
  const panel = contextOf(state, 'panel', lane.panel)
  const sheet = panel && lastCoat(panel)?.opens?.sheet
  const isDue = ['heat', 'heatFlash', 'heatAsk'].includes(lane.waits.for)
  if (!panel || sheet === undefined || !isDue) return null
  if (heatsNotKnown(state, panel).length === 0) return null
  const name = contextOf(state, 'sheet', sheet)?.versions.at(-1)?.sheet.name ?? sheet
  return (
    <div class="acts" data-no-way="heatFlash">
      <p class="sentence">{text.heatFlashAsk(name)}</p>
      <a
        class={lane.waits.for === 'heatAsk' ? 'button main' : 'button'}
        data-act="heatFlash"
        href={hashOf('setup', 'sheets', sheet, 'heat', 'wall')}
      >
        {text.heatFlashEnter}
      </a>
    </div>
  )
}
