import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import * as v from 'valibot'
import { settingsOf } from '../../machines/shop/settings.ts'
import { type CalculatorName, calculatorNames, calculators } from '../../machines/trade/registry.ts'
import { wrongText } from '../commands/refusalText.ts'
import { useShop } from '../commands/shop.ts'
import { Keypad } from '../forms/keypad.tsx'
import { useDraft } from '../forms/useDraft.ts'
import { Parts } from '../ui/benchParts.tsx'
import { PageHead } from '../ui/pageHead.tsx'
import { hashOf } from '../ui/route.ts'
import type { ViewProps } from '../ui/view.ts'
import { localeOf, numberText, weightText } from '../units/measure.ts'
import { Fields } from './fields.tsx'
import { nodeOf, type Typed } from './form.ts'
import { inputOf } from './input.ts'
import { unitFor } from './names.ts'
import { Result } from './result.tsx'
import { whyIn } from './why.ts'
import { useCalculatorWords } from './words.ts'

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

const typedSchema = v.record(v.string(), v.string())
const NOTHING: Typed = {}

function useForm(name: CalculatorName) {
  const { state, words, format } = useShop()
  const typed = useDraft<Typed>(`calculator.${name}`, typedSchema, () => NOTHING, localStorage)
  const asked = useSignal(false)
  const { units, language } = state.value ? settingsOf(state.value) : {}
  const node = nodeOf(calculators[name].schema)
  const unit = unitFor(units)
  const number = (value: number) => numberText(value, localeOf(language))
  const weight = (g: number) => weightText(g, localeOf(language))
  const input = inputOf(node, typed.value, unit)
  const checked = asked.value ? calculators[name].answer(input) : null
  const error = checked?.ok === false ? checked.error : null
  const wrong = error && {
    path: error.field,
    sentence: wrongText(
      error,
      { words: words.value, format: format.value },
      { name: null, typed: typed.value[error.field] ?? '' },
    ),
  }
  return { typed, asked, node, unit, number, weight, input, checked, wrong }
}

function One({ name }: { name: CalculatorName }) {
  const { words } = useShop()
  const calculator = useCalculatorWords()
  const { typed, asked, node, unit, number, weight, input, checked, wrong } = useForm(name)
  const page = useRef<HTMLFormElement>(null)
  const answer = useRef<HTMLElement>(null)
  useEffect(() => {
    // On a small screen the answer is below what was typed.
    if (checked?.ok) answer.current?.scrollIntoView({ block: 'nearest' })
  }, [asked.value])
  const ask = (event: Event) => {
    event.preventDefault()
    asked.value = true
    requestAnimationFrame(() =>
      page.current?.querySelector<HTMLElement>('[aria-invalid=true]')?.focus(),
    )
  }
  const result = checked?.ok ? whyIn(name, input, checked.value, words.value, unit, number) : null
  const isRatio = node.kind === 'group' && node.fields.some((f) => f.key === 'ratio')
  return (
    <>
      <PageHead
        title={calculator.names[name]}
        back={words.value.act.close}
        backTo={hashOf('calculator')}
      />
      <form ref={page} class="calc" onSubmit={ask} noValidate>
        <div class="calc-fields">
          <Fields form={{ typed, unitFor: unit, wrong }} node={node} path="" />
        </div>
        <aside>
          <Keypad signs={isRatio ? 'ratio' : 'signed'} />
          <div class="acts">
            <button type="submit" class="main" data-act="calculate">
              {calculator.calculate}
            </button>
            <button
              type="button"
              class="apart"
              onClick={() => {
                typed.value = NOTHING
                asked.value = false
              }}
            >
              {calculator.clear}
            </button>
          </div>
          {result !== null && (
            <section class="answer" role="status" ref={answer}>
              <h3>{calculator.answer}</h3>
              <Result result={result} unitFor={unit} number={number} weight={weight} />
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
