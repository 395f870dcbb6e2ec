/// <reference path="./culori.d.ts" />
import { differenceCiede2000, modeLab65, useMode } from 'culori/fn'
import { fields } from '../accept.ts'
import { calculator } from './calculator.ts'
import { type Lab, labSchema as lab } from './lab.ts'

useMode(modeLab65)

/**
 * The library's mode for D65 is taken whatever the instrument's light: it passes L*a*b* through
 * unchanged, and the formula asks only that both were measured alike.
 */
const colourOf = ([l, a, b]: Lab) => ({ mode: 'lab65', l, a, b }) as const
const ciede2000 = differenceCiede2000()

/** Difference between two colors that were measured alike: CIEDE2000, without a unit. */
export const deltaE00 = (one: Lab, other: Lab): number => ciede2000(colourOf(one), colourOf(other))

/** Colour difference between a panel and a card. In: L*, a*, b* of each. Out: ΔE00. */
export const colour = calculator({
  name: 'colour',
  schema: fields({ panel: lab, card: lab }),
  about: {
    formula: 'CIEDE2000 with kL = kC = kH = 1',
    units: 'CIE L*a*b*; ΔE00 has no unit',
    source: 'ISO/CIE 11664-6 (title from memory); Sharma, Wu and Dalal 2005, calculated by culori',
    caution:
      'Measure both with the same instrument, geometry, light and observer. One angle says little about effect colors: compare a sprayed card with the vehicle.',
  },
  run: ({ panel, card }) => ({ deltaE00: deltaE00(panel, card) }),
})
