import { type CalculatorName, calculators } from '../../machines/trade/registry.ts'
import { blank, changed } from '../forms/draft.ts'
import { type Draft, type Fields, fieldsOf } from '../forms/spec.ts'

/** The form of a calculation, from its own schema: a new calculation has its form at once. */
export const formOf = (name: CalculatorName): Fields =>
  fieldsOf(calculators[name].schema, { asks: true })

/** Nothing typed yet. Of what must be chosen the first is: a painter asks about numbers. */
export function startOf(fields: Fields): Draft {
  let draft = blank({ kind: 'group', fields })
  for (const [key, { spec, optional }] of Object.entries(fields))
    if (spec.kind === 'choice' && !optional) draft = changed(draft, [key], spec.of[0] ?? '')
  return draft
}
