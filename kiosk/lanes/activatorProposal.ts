import { activator } from '../../machines/trade/activator.ts'
import type { Words } from '../words/en.ts'

/** Which activator or reducer is proposed for today. Pure. */

export type TemperatureOption = {
  readonly name: string
  readonly fromC: number
  readonly toC: number
}

export type Proposal = {
  /** Null where the sheet lists none for that temperature. */
  readonly option: TemperatureOption | null
  /** The warmer of now and the warmest hour expected, which decides. */
  readonly warmestC: number
  /** Whether it is also made for the air as it is now. */
  readonly suitsNow: boolean
}

/** @param options as the sheet lists them, in °C */
export function proposalOf(
  options: readonly TemperatureOption[],
  nowC: number,
  warmestC: number,
): Proposal {
  const { name } = activator.run({ options: [...options], nowC, warmestC })
  const option = options.find((o) => o.name === name) ?? null
  return {
    option,
    warmestC: Math.max(nowC, warmestC),
    suitsNow: option !== null && option.fromC <= nowC && nowC <= option.toC,
  }
}

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
