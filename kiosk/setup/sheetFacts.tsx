import type { Sheet } from '../../machines/sheet/schema.ts'
import { useShop } from '../commands/shop.ts'
import type { Fields, NumberSpec, Spec } from '../forms/spec.ts'
import { fieldText, typedMeasure, unitOf } from '../units/measure.ts'
import { setupIn } from '../words/setupIn.ts'
import * as own from '../words/sheetForm.ts'
import { useOwnWords } from '../words/words.ts'
import { SHEET } from './forms.ts'

type Fact = { readonly path: string; readonly word: string; readonly text: string }
type Say = {
  readonly number: (value: number, spec: Pick<NumberSpec, 'measure' | 'unit'>) => string
  readonly point: (point: { readonly minutes: number; readonly atC: number }) => string
  readonly word: (path: string) => string
  readonly choice: (path: string, value: string) => string
  readonly yesNo: (value: boolean) => string
  readonly notKnown: string
}

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

/** Every figure of a sheet in words, in the order of its form. Pure. */
export function factsOf(fields: Fields, value: object, say: Say, path = ''): Fact[] {
  return Object.entries(fields).flatMap(([key, { spec }]) => {
    const at = path === '' ? key : `${path}.${key}`
    const one = (value as Readonly<Record<string, unknown>>)[key]
    // A wait that heat needs and nobody typed is not zero: it is said.
    if (one === undefined)
      return key === 'flashBefore' ? [{ path: at, word: say.word(at), text: say.notKnown }] : []
    return factsAt(spec, one, say, at)
  })
}

function factsAt(spec: Spec, value: unknown, say: Say, path: string): Fact[] {
  const fact = (text: string): Fact[] => [{ path, word: say.word(path), text }]
  switch (spec.kind) {
    case 'group':
      return isObject(value) ? factsOf(spec.fields, value, say, path) : fact(String(value))
    case 'maybe':
      return factsAt(spec.of, value, say, path)
    case 'points': {
      if (Array.isArray(value)) return fact(value.map(say.point).join(', '))
      if (typeof value === 'number') return fact(say.point({ minutes: value, atC: 20 }))
      const word = Object.keys(spec.words).find((name) => spec.words[name] === value)
      return fact(say.choice(path, word ?? String(value)))
    }
    case 'list': {
      const rows = Array.isArray(value) ? value : []
      const { item } = spec
      if (item.kind === 'group')
        return rows.flatMap((row, i) => factsAt(item, row, say, `${path}.${i}`))
      return rows.length === 0
        ? []
        : fact(rows.map((row) => say.choice(path, String(row))).join(', '))
    }
    case 'number':
      return fact(typeof value === 'number' ? say.number(value, spec) : String(value))
    case 'yesNo':
      return fact(say.yesNo(value === true))
    case 'choice':
      return fact(say.choice(path, String(value)))
    case 'text':
      return fact(Array.isArray(value) ? value.join(', ') : String(value))
  }
}

/** All that a sheet says, for a page beside the maker's paper. */
export function SheetFacts({ sheet }: { sheet: Sheet }) {
  const { words, format } = useShop()
  const say = useOwnWords(own)
  const { stage } = words.value
  const setup = setupIn(words.value)
  const { units } = format.value
  const choices: Readonly<Record<string, string>> = { ...stage, ...setup.choices }
  const plain = (path: string) => path.split('.').filter((part) => !/^\d+$/.test(part))
  const wordOf = (path: string): string =>
    setup.fields[plain(path).join('.')] ?? setup.fields[plain(path).at(-1) ?? ''] ?? path
  const measured: Say['number'] = (value, { measure, unit }) => {
    const word = unitOf(measure, units).word || words.value.said.unit(unit)
    return `${typedMeasure(value, measure, units)} ${word}`.trim()
  }
  const facts = factsOf(SHEET, sheet, {
    number: measured,
    point: ({ minutes, atC }) =>
      say.at(fieldText(minutes), measured(atC, { measure: 'temperature', unit: '°C' })),
    word: (path) => {
      const parts = path.split('.')
      const row = parts.findLastIndex((part) => /^\d+$/.test(part))
      const of =
        row > 0 ? `${wordOf(parts.slice(0, row).join('.'))} ${Number(parts[row]) + 1}: ` : ''
      const group = row < 0 && parts.length > 1 ? `${wordOf(parts.slice(0, -1).join('.'))}: ` : ''
      return `${of}${group}${wordOf(path)}`
    },
    choice: (path, value) => choices[`${plain(path).at(-1)}.${value}`] ?? choices[value] ?? value,
    yesNo: (value) => (value ? setup.yes : setup.no),
    notKnown: say.notKnown,
  })
  return (
    <section class="sheet-facts">
      <h2>{say.all}</h2>
      <dl>
        {facts.map(({ path, word, text }) => (
          <div key={path} data-fact={path}>
            <dt class="minor">{word}</dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
    </section>
  )
}
