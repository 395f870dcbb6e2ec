import type { Settings } from '../../machines/shop/settingsSchema.ts'
import { PISTON_DUTY } from '../../machines/trade/air.ts'
import { type CalculatorName, calculators } from '../../machines/trade/registry.ts'
import { blank, changed } from '../forms/draft.ts'
import { type Draft, type Fields, fieldsOf } from '../forms/spec.ts'
import { proposalOf, type TemperatureOption, whyProposed } from '../lanes/activatorProposal.ts'
import { localeOf, measureOf, numberText, unitOf, weightText } from '../units/measure.ts'
import type { Words } from '../words/en.ts'
import { setupIn } from '../words/setupIn.ts'

/**
 * A calculation's answer as rows and tables for the screen, in the shop's units. Pure.
 */

type Cell = { readonly text: string; readonly unit: string }
type Row = { readonly key: string; readonly cell: Cell }
export type Table = {
  readonly key: string
  readonly columns: readonly string[]
  readonly rows: readonly (readonly Cell[])[]
}
type Shown = { readonly rows: readonly Row[]; readonly tables: readonly Table[] }

export type Saying = {
  readonly units: Settings['units']
  readonly words: Words
  /** What an answer that is null means, by its name. */
  readonly none: (key: string) => string
}

/** What the numbers of an answer are in: it has no schema that would say so. */
const UNITS: Readonly<Record<string, string>> = {
  minutes: 'min',
  endsAtMin: 'min',
  mixAtMin: 'min',
  lastCoatAtMin: 'min',
  livesUntilMin: 'min',
  drawdownMin: 'min',
  recoverMin: 'min',
  dewPointC: '°C',
  marginC: 'K',
  totalMl: 'mL',
  volumeMl: 'mL',
  ml: 'mL',
  g: 'g',
  scaleG: 'g',
  targetG: 'g',
  addG: 'g',
  totalG: 'g',
  errorPct: '%',
  share: 'fraction',
  spreadM2PerL: 'm²/L',
  wetUm: 'µm',
  dryUm: 'µm',
  gPerL: 'g/L',
  regulatoryGPerL: 'g/L',
  actualGPerL: 'g/L',
  balanceLpm: 'L/min',
  mm2PerS: 'mm²/s',
}

function cellOf(key: string, value: unknown, { units, words, none }: Saying): Cell {
  const { yes, no } = setupIn(words)
  if (typeof value === 'boolean') return { text: value ? yes : no, unit: '' }
  if (typeof value !== 'number')
    return { text: value === null ? none(key) : String(value), unit: '' }
  const named = UNITS[key] ?? ''
  const unit = unitOf(measureOf(named), units)
  const textOf = named === 'g' ? weightText : numberText
  return { text: textOf(unit.fromSi(value), localeOf(words.locale)), unit: unit.word || named }
}

function tableOf(key: string, items: readonly Record<string, unknown>[], say: Saying): Table {
  const columns = Object.keys(items[0] ?? {})
  return {
    key,
    columns,
    rows: items.map((item) => columns.map((column) => cellOf(column, item[column], say))),
  }
}

/** @param result what a calculation gave: numbers, words and lists of such */
export function shownOf(result: unknown, say: Saying): Shown {
  const entries = Object.entries(result as Record<string, unknown>)
  return {
    rows: entries
      .filter(([, value]) => !Array.isArray(value))
      .map(([key, value]) => ({ key, cell: cellOf(key, value, say) })),
    tables: entries
      .filter(([, value]) => Array.isArray(value))
      .map(([key, value]) => tableOf(key, value as Record<string, unknown>[], say)),
  }
}

type Input = { readonly options: readonly TemperatureOption[]; nowC: number; warmestC: number }

/** An answer as the screen says it: the calculation writes its reason in English and °C alone. */
export function whyIn(
  name: CalculatorName,
  input: unknown,
  result: unknown,
  { units, words }: Saying,
): unknown {
  if (name !== 'activator') return result
  const { options, nowC, warmestC } = input as Input
  const { word, fromSi } = unitOf('temperature', units)
  const temperature = (tempC: number) =>
    `${numberText(fromSi(tempC), localeOf(words.locale))} ${word}`
  const why = whyProposed(proposalOf(options, nowC, warmestC), nowC, words, temperature)
  return { ...(result as object), why }
}

/** The form of a calculation, from its own schema: a new calculation has its form at once. */
export const formOf = (name: CalculatorName): Fields =>
  fieldsOf(calculators[name].schema, { asks: true })

/** Nothing typed yet. Of what must be chosen the first is: a painter asks about numbers. A duty is proposed. */
export function startOf(fields: Fields): Draft {
  let draft = blank({ kind: 'group', fields })
  for (const [key, { spec, optional }] of Object.entries(fields))
    if (spec.kind === 'choice' && !optional) draft = changed(draft, [key], spec.of[0] ?? '')
  return 'duty' in fields ? changed(draft, ['duty'], PISTON_DUTY) : draft
}
