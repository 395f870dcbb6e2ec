import * as v from 'valibot'
import { fields, list, number } from '../accept.ts'
import { calculator, crossChecked, sum, type Wrong } from './calculator.ts'
import {
  cupMl,
  densitiesFit,
  densityCount,
  type PourInput,
  partsOf,
  pourFields,
  targetsOf,
} from './pour.ts'

type OverPourInput = PourInput & {
  readonly pouredG: readonly number[]
  readonly cupMl?: number | undefined
}

/** Grams are poured and mL are asked for: without every density nothing can be calculated. */
const densitiesKnown = (input: OverPourInput): Wrong | null =>
  input.densities === undefined ? densityCount(partsOf(input).length) : densitiesFit(input)

function pouredFits(input: OverPourInput): Wrong | null {
  const parts = partsOf(input)
  if (input.pouredG.length > parts.length) {
    return { path: ['pouredG'], code: 'weights', params: { most: parts.length } }
  }
  const stray = parts.findIndex((part, i) => part === 0 && (input.pouredG[i] ?? 0) > 0)
  return stray < 0 ? null : { path: ['pouredG', stray], code: 'noneOfIt', params: {} }
}

const FITS_WITHIN = 1 + 1e-9 // a binary fraction must not turn 550 mL out of a 550 mL cup

/**
 * What to add after too much of something went in. In: as for pour, and the grams of each part in
 * the cup so far (parts left out at the end: none yet). Out: for each part the new target and what
 * is still to be added, both in g; the new total; whether it fits the cup, null without a cup.
 */
export const overPour = calculator({
  name: 'overPour',
  schema: crossChecked(
    fields({
      ...pourFields,
      pouredG: list(number(0, 1_000_000, 'g'), 1, 18),
      cupMl: v.optional(cupMl),
    }),
    (input) => densitiesKnown(input) ?? pouredFits(input),
  ),
  about: {
    formula:
      'New total = the smallest total, at least totalMl, at which no part’s target is less than what was poured of it; add = target − poured',
    units: 'g, mL, g/mL; stepG and scaleG are not used here',
    source: 'definition of a mixing ratio; common practice, no source',
    caution:
      'Nothing can be taken out of a mix. The pot life runs from the first activator that went in; adding never restarts it.',
  },
  run: (input) => {
    const asked = targetsOf(input).map((target) => target.g as number)
    const poured = asked.map((_, i) => input.pouredG[i] ?? 0)
    const grow = Math.max(1, ...asked.map((g, i) => (g > 0 ? (poured[i] as number) / g : 1)))
    const parts = asked.map((g, i) => {
      const already = poured[i] as number
      const targetG = Math.max(g * grow, already)
      return { targetG, addG: targetG - already }
    })
    const totalMl = input.totalMl * grow
    return {
      parts,
      totalMl,
      totalG: sum(parts.map((part) => part.targetG)),
      fits: input.cupMl === undefined ? null : totalMl <= input.cupMl * FITS_WITHIN,
    }
  },
})
