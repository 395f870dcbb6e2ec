import { calculate, calculators } from '../../../machines/trade/registry.ts'
import { saidWrong } from '../../support/said.ts'

type Calculators = typeof calculators
type Result<N extends keyof Calculators> = ReturnType<Calculators[N]['run']>

/** The answer to a calculation that must succeed, asked as the outside asks. */
export function answer<N extends keyof Calculators>(name: N, input: unknown): Result<N> {
  const checked = calculators[name].answer(input)
  if (!checked.ok) throw new Error(`${name} refused: ${saidWrong(checked.error).message}`)
  return checked.value as Result<N>
}

/** The refusal of a calculation that must not succeed. */
export function refusal(name: string, input: unknown) {
  const checked = calculate(name, input)
  if (checked.ok) throw new Error(`${name} answered ${JSON.stringify(checked.value)}`)
  return saidWrong(checked.error)
}
