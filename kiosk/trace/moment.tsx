import type { Signal } from '@preact/signals'
import type { Draft, Entry } from '../../machines/envelope.ts'
import type { Traced } from '../../machines/trace/trace.ts'
import { useShop } from '../commands/shop.ts'
import { chipOf } from '../lanes/chip.ts'
import { lanesOf } from '../lanes/lanes.ts'
import { Press } from '../ui/buttons.tsx'
import { traceIn } from '../words/traceIn.ts'

/** When the log knew an entry: a draft that no server has seen yet, when it was pressed. */
export const knownAt = (entry: Draft | Entry): number =>
  'recordedAt' in entry ? entry.recordedAt : entry.enteredAt

type Props = {
  readonly from: number
  readonly to: number
  /** UTC ms; null for all that is known now. */
  readonly moment: Signal<number | null>
  /** The job by what was recorded by then. */
  readonly all: Traced
  readonly later: number
}

/** Any moment again: what the Wall said then, by what was recorded by then. */
export function MomentView({ from, to, moment, all, later }: Props) {
  const { words, format } = useShop()
  const trace = traceIn(words.value)
  const at = moment.value
  return (
    <section class="stack">
      <h2>{trace.moment}</h2>
      <input
        type="range"
        class="trace-moment"
        aria-label={trace.moment}
        aria-valuetext={at === null ? trace.momentNow : format.value.timeAndDay(at, to)}
        min={from}
        max={to}
        step={60_000}
        value={at ?? to}
        onInput={(e) => {
          moment.value = Number(e.currentTarget.value)
        }}
      />
      {at !== null && (
        <>
          <p class="sentence" data-moment>
            {format.value.timeAndDay(at, to)}, {trace.knownThen}
            {later > 0 ? `; ${trace.notYet(later)}` : ''}
          </p>
          <ul class="rows">
            {lanesOf(all.state, at).map((lane) => {
              const { big, small } = chipOf(lane, words.value, at)
              return (
                <li key={lane.panel} class="row" data-lane={lane.panel}>
                  <strong>{lane.name}</strong>
                  <span>
                    {small} · {big}
                  </span>
                </li>
              )
            })}
          </ul>
          <Press
            act="momentNow"
            onPress={() => {
              moment.value = null
            }}
          >
            {trace.momentNow}
          </Press>
        </>
      )}
    </section>
  )
}
