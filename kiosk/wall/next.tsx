import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import { type Coming, nextLine } from '../lanes/nextUp.ts'

type Props = {
  readonly state: State
  readonly lines: readonly Coming[]
  /** UTC ms; which day is today. */
  readonly now: number
}

/** What comes next, in order of time, across all jobs. */
export function Next({ state, lines, now }: Props) {
  const { words, format } = useShop()
  return (
    <section class="next">
      <h2 class="minor">{words.value.wall.next}</h2>
      {lines.length === 0 && <p class="minor">{words.value.wall.nothingNext}</p>}
      <ol>
        {lines.map((d) => (
          <li key={d.key}>
            <b class="digits">
              {d.isDue ? words.value.wall.now : format.value.timeAndDay(d.dueAt, now)}
            </b>{' '}
            {nextLine(state, d, words.value)}
          </li>
        ))}
      </ol>
    </section>
  )
}
