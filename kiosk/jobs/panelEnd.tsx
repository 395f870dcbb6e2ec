import { routeState } from '../../machines/panel/where.ts'
import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import { PageHead } from '../ui/parts.tsx'
import { historyIn } from '../words/historyIn.ts'
import * as own from '../words/panelEnd.ts'
import { useOwnWords } from '../words/words.ts'
import { HISTORY, jobsPath } from './names.ts'
import type { PanelView } from './panelView.ts'

/** What is shown of a panel on which nothing is left to do, and of a job without one. */

/** A job that has no panel yet, or whose panels have all passed. */
export function NothingToDo({ panels }: { panels: readonly PanelView[] }) {
  const say = useOwnWords(own)
  const isAllPassed = panels.length > 0 && panels.every(({ where }) => where === 'passed')
  if (panels.length > 0 && !isAllPassed) return null
  return (
    <section class="empty" data-empty={isAllPassed ? 'allPassed' : 'noPanels'}>
      <h2>{isAllPassed ? say.allPassed(panels.length) : say.noPanels}</h2>
      <p>{isAllPassed ? say.allPassedWhy : say.noPanelsWhy}</p>
    </section>
  )
}

/** That a panel has passed, when, and what is done if something is found. */
export function Passed({ view, now }: { view: PanelView; now: number }) {
  const { format } = useShop()
  const say = useOwnWords(own)
  const { passedAt } = view.panel
  if (view.where !== 'passed' || passedAt === null) return null
  return (
    <section class="framed raised" data-end="passed">
      <h2>
        <span aria-hidden="true">✓</span> {say.passed(format.value.timeAndDay(passedAt, now))}
      </h2>
      <p>{say.passedWhy}</p>
    </section>
  )
}

type RemovedProps = { readonly state: State; readonly job: string; readonly now: number }

const removedFrom = (state: State, job: string) =>
  Object.entries(state.things.panel).flatMap(([id, { context, value, entries }]) => {
    const removed = entries.findLast(({ type }) => type === 'PanelRemoved')
    const isRemoved = removed !== undefined && routeState(value) === 'removed'
    return isRemoved && context.job === job ? [{ id, name: context.name, at: removed.at }] : []
  })

/** The panels that were taken out of a job: their work stays in its history. */
export function RemovedPanels({ state, job, now }: RemovedProps) {
  const { format } = useShop()
  const say = useOwnWords(own)
  const all = removedFrom(state, job)
  if (all.length === 0) return null
  return (
    <section data-end="removed">
      <h2>{say.removed}</h2>
      <ul class="rows">
        {all.map(({ id, name, at }) => (
          <li key={id} data-removed={id}>
            <s>{name}</s> <span class="minor">{format.value.timeAndDay(at, now)}</span>
          </li>
        ))}
      </ul>
    </section>
  )
}

/** The page of a panel that was removed: what became of it, and the ways on. */
export function RemovedPanel({
  state,
  job,
  panel,
  now,
}: RemovedProps & { readonly panel: string }) {
  const { words, format } = useShop()
  const say = useOwnWords(own)
  const found = removedFrom(state, job).find((one) => one.id === panel)
  if (!found) return null
  return (
    <div class="form jobs" data-where="removed">
      <PageHead title={found.name} back={words.value.jobs.back} backTo={jobsPath(job)}>
        <span class="digits">{panel}</span>
      </PageHead>
      <section class="framed raised" data-end="removed">
        <h2>{say.wasRemoved(format.value.timeAndDay(found.at, now))}</h2>
        <p>{say.removedWhy}</p>
      </section>
      <div class="acts">
        <a class="button main" href={jobsPath(job)}>
          {say.toJob}
        </a>
        <a class="button" href={jobsPath(job, HISTORY)}>
          {historyIn(words.value).title}
        </a>
      </div>
    </div>
  )
}
