import * as v from 'valibot'
import { oneOf } from '../accept.ts'
import { rule } from '../contract/wrongField.ts'
import { sum } from './calculator.ts'

/** A mixing ratio as a sheet or a tin writes it: "2:1:0.5" or "4:1+10%". */
export type Ratio = {
  readonly parts: readonly number[]
  /** Each "+10%", in order. */
  readonly percents: readonly number[]
}

/** What a percentage is of: the sum of the parts before it, or the first part alone. */
export type PercentOf = 'sum' | 'base'
export const percentOf = oneOf(['sum', 'base'])

const NUMBER = String.raw`(?:\d{1,6}(?:\.\d{1,6})?|\.\d{1,6})`
const FORM = new RegExp(
  String.raw`^\s*${NUMBER}(?:\s*:\s*${NUMBER}){0,11}(?:\s*\+\s*${NUMBER}\s*%){0,6}\s*$`,
)
const accepted = rule('ratio', {})

/**
 * Reads a ratio: one to twelve parts with colons between, then up to six additions in per cent.
 * @param text such as "4:1+10%"; spaces do not matter, the decimal sign is the point
 * @returns null when it is not a ratio, or when its first part, the base, is zero
 */
export function parseRatio(text: string): Ratio | null {
  if (!FORM.test(text)) return null
  const [colons = '', ...added] = text.split('+')
  const parts = colons.split(':').map(Number)
  const percents = added.map((addition) => Number(addition.replace('%', '')))
  return parts[0] === 0 ? null : { parts, percents }
}

/**
 * All parts of a ratio as plain numbers, in the order they are poured.
 *
 * A percentage is of the sum of everything before it, earlier additions included, unless it is told
 * "base": 4:1+10% is 4 : 1 : 0.5, by the base 4 : 1 : 0.4.
 */
export function ratioParts(ratio: Ratio, of: PercentOf = 'sum'): number[] {
  const parts = [...ratio.parts]
  const base = ratio.parts[0] ?? 0
  for (const percent of ratio.percents) {
    parts.push((percent * (of === 'base' ? base : sum(parts))) / 100)
  }
  return parts
}

/** A ratio from outside, parsed. */
export const ratioSchema = v.pipe(
  v.string(accepted),
  v.maxLength(120, accepted),
  v.rawTransform<string, Ratio>(({ dataset, addIssue, NEVER }) => {
    const ratio = parseRatio(dataset.value)
    if (ratio) return ratio
    addIssue({ message: accepted })
    return NEVER
  }),
)
