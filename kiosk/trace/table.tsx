import { useShop } from '../commands/shop.ts'
import { Fold } from '../ui/parts.tsx'
import { traceIn } from '../words/traceIn.ts'
import type { Chart } from './mark.ts'
import { flagsText, markName, markNumbers } from './say.ts'
import { rowName } from './timeline.tsx'

/** What the timeline draws, line by line: for who hears the page, and for paper. */
export function MarksTable({ chart, now }: { readonly chart: Chart; readonly now: number }) {
  const { words, format } = useShop()
  const say = { words: words.value, format: format.value }
  const trace = traceIn(words.value)
  const rows = new Map(chart.rows.map((row) => [row.id, rowName(row, say)]))
  const sorted = chart.marks.toSorted((a, b) => a.from - b.from)
  const time = (ms: number) => format.value.timeAndDay(ms, now)
  return (
    <Fold word={trace.table} act="table">
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a table that scrolls has to be reached by keys */}
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
            {sorted.map((mark, i) => (
              <tr key={`${mark.row} ${mark.kind} ${mark.from} ${i}`}>
                <td>
                  {time(mark.from)}
                  {mark.to !== null && mark.to > mark.from
                    ? ` – ${format.value.time(mark.to)}`
                    : ''}
                </td>
                <td>{rows.get(mark.row)}</td>
                <td>{markName(mark, say)}</td>
                <td>{markNumbers(mark, say)}</td>
                <td>{flagsText(mark, say)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </Fold>
  )
}
