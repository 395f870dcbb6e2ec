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
      <div class="trace-box">
        <table>
          <thead>
            <tr>
              {[trace.when, '', trace.what, trace.numbers, trace.marks].map((word, i) => (
                <th key={word === '' ? i : word}>{word}</th>
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
      </div>
    </Fold>
  )
}
