import type { Deadline } from '../../machines/bell/deadline.ts'
import { deadlines } from '../../machines/deadlines.ts'
import type { PanelContext } from '../../machines/panel/context.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { useShop } from '../shop/context.ts'
import type { Words } from '../words/en.ts'

/** So far ahead the list of what comes next looks; what is further is nobody's next. */
const AHEAD_MS = 4 * 3_600_000
const SHOWN_MOST = 6

function about(state: State, { thing, panels }: Deadline): string {
  if (thing.kind === 'cup') return thing.id.slice(0, 4)
  if (thing.kind === 'gun') return thing.id
  const name = (id: string) => contextOf<PanelContext>(state, 'panel', id)?.name ?? id
  return (panels ?? [thing.id]).map(name).join(', ')
}

/** What a bell says, as a line. */
export const bellLine = (state: State, deadline: Deadline, words: Words): string =>
  words.bell[deadline.bell](about(state, deadline))

/** What comes next, in order of time, across all jobs. */
export function Next({ state, now }: { state: State; now: number }) {
  const { words, format } = useShop()
  const due = deadlines(state).filter((d) => d.dueAt < now + AHEAD_MS)
  // What is over needs no line that says it soon will be.
  const isStale = (d: Deadline) =>
    (d.bell === 'potNear' &&
      due.some((o) => o.bell === 'potOver' && o.thing.id === d.thing.id && o.dueAt <= now)) ||
    (d.bell === 'windowClosing' &&
      due.some((o) => o.bell === 'windowShut' && o.thing.id === d.thing.id && o.dueAt <= now))
  const lines = due.filter((d) => !isStale(d)).slice(0, SHOWN_MOST)
  return (
    <section class="next">
      <h2 class="minor">{words.value.wall.next}</h2>
      {lines.length === 0 && <p class="minor">{words.value.wall.nothingNext}</p>}
      <ol>
        {lines.map((d) => (
          <li key={d.key}>
            <span class="digits">
              {d.dueAt <= now ? words.value.wall.now : format.value.timeAndDay(d.dueAt, now)}
            </span>{' '}
            {bellLine(state, d, words.value)}
          </li>
        ))}
      </ol>
    </section>
  )
}
