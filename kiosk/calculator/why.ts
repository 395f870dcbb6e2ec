import type { CalculatorName } from '../../machines/trade/registry.ts'
import { type Proposal, proposalOf, type TemperatureOption } from '../bench/proposal.ts'
import type { Words } from '../words/en.ts'
import type { UnitFor } from './input.ts'

/** Why an activator is proposed, in the shop's language and units. */
export function whyProposed(
  { option, warmestC, suitsNow }: Proposal,
  nowC: number,
  words: Words,
  temperature: (tempC: number) => string,
): string {
  const { bench } = words
  if (option === null) return bench.noneFor(temperature(warmestC))
  const range = bench.range(temperature(option.fromC), temperature(option.toC))
  const why = bench.whyOption(temperature(warmestC), option.name, range)
  return suitsNow ? why : `${why} ${bench.slowNow(temperature(nowC))}`
}

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
