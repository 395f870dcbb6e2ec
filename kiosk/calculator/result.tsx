import { type Saying, shownOf, type Table } from './answer.ts'

type Names = Readonly<Record<string, string>>
type Props = { readonly result: unknown; readonly say: Saying; readonly names: Names }

/** An answer: single numbers large, lists as tables. */
export function Result({ result, say, names }: Props) {
  const { rows, tables } = shownOf(result, say)
  return (
    <>
      <dl>
        {rows.map(({ key, cell }) => (
          <div key={key} data-answer={key}>
            <dt class="minor">{names[key] ?? key}</dt>
            <dd class={key === 'why' ? '' : 'digits'}>
              {cell.text} {cell.unit}
            </dd>
          </div>
        ))}
      </dl>
      {tables.map((table) => (
        <Lines key={table.key} table={table} names={names} />
      ))}
    </>
  )
}

function Lines({ table, names }: { table: Table; names: Names }) {
  return (
    <table class="targets" data-answer={table.key}>
      <thead>
        <tr>
          {table.columns.map((column) => (
            <th key={column} scope="col" class="minor">
              {names[column] ?? column}
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
