import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import { type CalculatorName, calculatorNames, calculators } from '../../machines/trade/registry.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { read } from '../forms/draft.ts'
import type { FormWords } from '../forms/fields.tsx'
import { GroupView } from '../forms/fieldView.tsx'
import { useFirstWrong, useFormDraft } from '../forms/form.tsx'
import { Keypad } from '../forms/keypad.tsx'
import { Press } from '../ui/buttons.tsx'
import { PageHead, Parts } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import type { ViewProps } from '../ui/screen.tsx'
import * as own from '../words/calculator.ts'
import { setupIn } from '../words/setupIn.ts'
import { useOwnWords } from '../words/words.ts'
import { formOf, type Saying, shownOf, startOf, type Table, whyIn } from './inAndOut.ts'

const useCalculatorWords = () => useOwnWords(own)

const isName = (name: string | undefined): name is CalculatorName =>
  name !== undefined && Object.hasOwn(calculators, name)

/** Every calculation of the trade. Pure: it works without a server. */
export function Calculator({ rest }: ViewProps) {
  const name = rest[0]
  return (
    <div class="bench">
      <Parts shown="calculator" />
      {isName(name) ? <One key={name} name={name} /> : <All />}
    </div>
  )
}

function All() {
  const calculator = useCalculatorWords()
  return (
    <>
      <h2>{calculator.choose}</h2>
      <div class="calc-all">
        {calculatorNames.map((name) => (
          <a class="button" key={name} href={hashOf('calculator', name)} data-calculator={name}>
            {calculator.names[name]}
          </a>
        ))}
      </div>
    </>
  )
}

/** The words of its form: Setup's, and those that only a calculation has. */
function useFormWords(): FormWords {
  const setup = setupIn(useWords())
  const { fields, options, optional } = useCalculatorWords()
  return {
    fields: { ...setup.fields, ...fields },
    choices: { ...setup.choices, ...options },
    optional,
  }
}

function One({ name }: { name: CalculatorName }) {
  const { words, format } = useShop()
  const { units } = format.value
  const calculator = useCalculatorWords()
  const formWords = useFormWords()
  const fields = formOf(name)
  const spec = { kind: 'group', fields } as const
  const typed = useFormDraft(`calculator.${name}`, () => startOf(fields), localStorage)
  const asked = useSignal(false)
  const { page, show } = useFirstWrong()
  const answer = useRef<HTMLElement>(null)
  const input = read(spec, typed.value)
  const checked = asked.value ? calculators[name].answer(input) : null
  useEffect(() => {
    // On a small screen the answer is below what was typed.
    if (checked?.ok) answer.current?.scrollIntoView({ block: 'nearest' })
  }, [asked.value])
  const ask = (event: Event) => {
    event.preventDefault()
    asked.value = true
    show()
  }
  const say = { units, words: words.value, none: calculator.none }
  const isRatio = Object.values(fields).some((f) => f.spec.kind === 'text' && f.spec.isRatio)
  return (
    <>
      <PageHead
        title={calculator.names[name]}
        back={words.value.act.close}
        backTo={hashOf('calculator')}
      />
      <form ref={page} class="calc" onSubmit={ask} noValidate>
        <GroupView
          form={{ words: formWords, wrong: checked?.ok === false ? checked.errors : [] }}
          spec={spec}
          draft={typed.value}
          path={[]}
          onChange={(to) => {
            typed.value = to
          }}
        />
        <aside>
          <Keypad signs={isRatio ? 'ratio' : 'signed'} />
          <div class="acts">
            <button type="submit" class="main" data-act="calculate">
              {calculator.calculate}
            </button>
            <Press
              isApart
              onPress={() => {
                typed.value = startOf(fields)
                asked.value = false
              }}
            >
              {calculator.clear}
            </Press>
          </div>
          {checked?.ok && (
            <section class="framed raised answer" role="status" ref={answer}>
              <h3>{calculator.answer}</h3>
              <Result
                result={whyIn(name, input, checked.value, say)}
                say={say}
                names={formWords.fields}
              />
            </section>
          )}
        </aside>
      </form>
      <AboutIt name={name} />
    </>
  )
}

/** What a painter judges the number by. */
function AboutIt({ name }: { name: CalculatorName }) {
  const calculator = useCalculatorWords()
  const about = calculator.about?.[name] ?? calculators[name].about
  return (
    <dl class="about">
      {(['caution', 'formula', 'units', 'source'] as const).map((key) => (
        <div key={key} data-about={key}>
          <dt>{calculator[key]}</dt>
          <dd>{about[key]}</dd>
        </div>
      ))}
    </dl>
  )
}

type Names = Readonly<Record<string, string>>
type Props = { readonly result: unknown; readonly say: Saying; readonly names: Names }

/** An answer: single numbers large, lists as tables. */
function Result({ result, say, names }: Props) {
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
