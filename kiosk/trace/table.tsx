import { useSignal } from '@preact/signals'
import { useShop } from '../commands/shop.ts'
import { Press } from '../ui/buttons.tsx'
import { Fold } from '../ui/parts.tsx'
import { timelineIn } from '../words/timeline.ts'
import { traceIn } from '../words/traceIn.ts'
import type { Chart } from './mark.ts'
import { flagsText, markName, markNumbers } from './say.ts'
import { rowName } from './timeline.tsx'

/** A page of so many is drawn at once; the rest when somebody wants it. */
const ROWS_MOST = 300

type Props = {
  readonly chart: Chart
  readonly now: number
  /** How a time of it is written; by the shop's clock without it. */
  readonly label?: (ms: number) => string
}

/** What the timeline draws, line by line: for who hears the page, and for paper. */
export function MarksTable({ chart, now, label }: Props) {
  const trace = traceIn(useShop().words.value)
  return (
    <Fold word={trace.table} act="table">
      {() => <Rows {...{ chart, now }} {...(label ? { label } : {})} />}
    </Fold>
  )
}

function Rows({ chart, now, label }: Props) {
  const { words, format } = useShop()
  const say = { words: words.value, format: format.value }
  const trace = traceIn(words.value)
  const rows = new Map(chart.rows.map((row) => [row.id, rowName(row, say)]))
  const sorted = chart.marks.toSorted((a, b) => a.from - b.from)
  const isAll = useSignal(false)
  const shown = isAll.value ? sorted : sorted.slice(0, ROWS_MOST)
  const time = label ?? ((ms: number) => format.value.timeAndDay(ms, now))
  const until = (to: number, from: number) => label?.(to) ?? format.value.timeAndDay(to, from)
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a table that scrolls has to be reached by keys
    <section class="trace-box" aria-label={trace.table} tabIndex={0}>
      <table>
        <thead>
          <tr>
            {[trace.when, trace.where, trace.what, trace.numbers, trace.marks].map((word) => (
              <th key={word}>{word}</th>
            ))}
          </tr>
        </thead>
        <tbody>
          {shown.map((mark, i) => (
            <tr key={`${mark.row} ${mark.kind} ${mark.from} ${i}`}>
              <td>
                {time(mark.from)}
                {mark.to !== null && mark.to > mark.from ? ` – ${until(mark.to, mark.from)}` : ''}
              </td>
              <td>{rows.get(mark.row)}</td>
              <td>{markName(mark, say)}</td>
              <td>{markNumbers(mark, say)}</td>
              <td>{flagsText(mark, say)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {shown.length < sorted.length && (
        <Press
          act="allRows"
          onPress={() => {
            isAll.value = true
          }}
        >
          {timelineIn(words.value).allRows(sorted.length)}
        </Press>
      )}
    </section>
  )
}
