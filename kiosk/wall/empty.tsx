import { routeState } from '../../machines/panel/where.ts'
import { currentSheets } from '../../machines/plan/route.ts'
import type { State } from '../../machines/state.ts'
import { jobName } from '../commands/panelName.ts'
import { useShop } from '../commands/shop.ts'
import { hashOf } from '../ui/route.ts'
import type { ViewProps } from '../ui/screen.tsx'
import { TryPractice } from '../ui/tryPractice.tsx'
import { FirstRun } from './firstRun.tsx'

/** Open jobs to which nobody has added a panel yet. */
function jobsWithoutPanels(state: State) {
  const panels = Object.values(state.things.panel)
  const isBare = (job: string) =>
    panels.every(({ context, value }) => context.job !== job || routeState(value) === 'removed')
  return Object.entries(state.things.job).flatMap(([id, { value }]) =>
    ['unknown', 'closed'].includes(value) || !isBare(id) ? [] : [{ id, title: jobName(state, id) }],
  )
}

/** What to begin with where no panel is in work. */
export function Empty(props: ViewProps) {
  const { words, state } = useShop()
  if (state.value && currentSheets(state.value).length === 0) return <FirstRun {...props} />
  const { wall } = words.value
  const bare = state.value ? jobsWithoutPanels(state.value) : []
  return (
    <section class="empty">
      <h2>{wall.empty}</h2>
      <p>{bare.length > 0 ? wall.bare(bare.length) : wall.emptyHint}</p>
      {bare.map(({ id, title }) => (
        <a class="button main" key={id} data-act="addPanels" href={hashOf('jobs', id, 'panels')}>
          <span>
            {wall.addPanels}
            <small>{title}</small>
          </span>
        </a>
      ))}
      <a class={bare.length > 0 ? 'button' : 'button main'} href={hashOf('jobs')}>
        {wall.openJob}
      </a>
      <TryPractice />
    </section>
  )
}
