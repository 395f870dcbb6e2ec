import { lastCoat } from '../../machines/panel/context.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { useWords } from '../commands/shop.ts'
import { hashOf } from '../ui/route.ts'
import { actsIn } from '../words/acts.ts'
import { heatsNotKnown } from './heat.ts'
import type { Lane } from './lanes.ts'

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
