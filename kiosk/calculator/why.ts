import type { CalculatorName } from '../../machines/trade/registry.ts'
import { proposalOf, type TemperatureOption, whyProposed } from '../lanes/activatorProposal.ts'
import type { Words } from '../words/en.ts'
import type { UnitFor } from './input.ts'

type Input = { readonly options: readonly TemperatureOption[]; nowC: number; warmestC: number }

/** An answer as the screen says it: the calculation writes its reason in English and °C alone. */
export function whyIn(
  name: CalculatorName,
  input: unknown,
  result: unknown,
  words: Words,
  unitFor: UnitFor,
  number: (value: number) => string,
): unknown {
  if (name !== 'activator') return result
  const { options, nowC, warmestC } = input as Input
  const { word, fromSi } = unitFor('airC')
  const temperature = (tempC: number) => `${number(fromSi(tempC))} ${word}`
  const why = whyProposed(proposalOf(options, nowC, warmestC), nowC, words, temperature)
  return { ...(result as object), why }
}
