import { shownOf, type Table } from './answer.ts'
import type { UnitFor } from './input.ts'
import { useCalculatorWords } from './words.ts'

type Props = {
  readonly result: unknown
  readonly unitFor: UnitFor
  readonly number: (value: number) => string
  readonly weight: (g: number) => string
}

/** An answer: single numbers large, lists as tables. */
export function Result({ result, unitFor, number, weight }: Props) {
  const { fields, yes, no, none } = useCalculatorWords()
  const say = { unitFor, numberText: number, weightText: weight, yes, no, none }
  const { rows, tables } = shownOf(result, say)
  return (
    <>
      <dl>
        {rows.map(({ key, cell }) => (
          <div key={key} data-answer={key}>
            <dt class="minor">{fields[key] ?? key}</dt>
            <dd class={key === 'why' ? '' : 'digits'}>
              {cell.text} {cell.unit}
            </dd>
          </div>
        ))}
      </dl>
      {tables.map((table) => (
        <Lines key={table.key} table={table} />
      ))}
    </>
  )
}

function Lines({ table }: { table: Table }) {
  const { fields } = useCalculatorWords()
  return (
    <table class="targets" data-answer={table.key}>
      <thead>
        <tr>
          {table.columns.map((column) => (
            <th key={column} scope="col" class="minor">
              {fields[column] ?? column}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {table.rows.map((cells, row) => (
          <tr key={`${table.key}-${String(row)}`}>
            {cells.map((cell, i) => (
              <td class="digits" key={table.columns[i]}>
                {cell.text} {cell.unit}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  )
}
