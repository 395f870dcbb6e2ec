import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import { nextLine, nextUp } from '../lanes/nextUp.ts'

/** What comes next, in order of time, across all jobs. */
export function Next({ state, now }: { state: State; now: number }) {
  const { words, format } = useShop()
  const lines = nextUp(state, now)
  return (
    <section class="next">
      <h2 class="minor">{words.value.wall.next}</h2>
      {lines.length === 0 && <p class="minor">{words.value.wall.nothingNext}</p>}
      <ol>
        {lines.map((d) => (
          <li key={d.key}>
            <b class="digits">
              {d.dueAt <= now ? words.value.wall.now : format.value.timeAndDay(d.dueAt, now)}
            </b>{' '}
            {nextLine(state, d, words.value)}
          </li>
        ))}
      </ol>
    </section>
  )
}
