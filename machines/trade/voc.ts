import * as v from 'valibot'
import { above0, fields, list, number, oneOf } from '../accept.ts'
import { calculator, crossChecked, sum, type Wrong } from './calculator.ts'
import { densityGPerMl } from './pour.ts'

const WATER_G_PER_ML = 1
const ROUNDING = 1e-9 // fractions typed as 0.3 + 0.7 must not fall short of 1

const fraction = number(0, 1, 'fraction')

type Component = {
  readonly parts: number
  readonly densityGPerMl: number
  readonly volatile: number
  readonly water?: number | undefined
  readonly exempt?: number | undefined
  readonly exemptDensity?: number | undefined
}

type Basis = 'us' | 'eu'

/**
 * One component's share: g of VOC, its mL, and the mL of it that are water or exempt solvent. The
 * European directive knows no exempt solvent: there it is VOC like any other.
 */
function sharesOf(c: Component, basis: Basis) {
  const water = c.water ?? 0
  const exempt = basis === 'eu' ? 0 : (c.exempt ?? 0)
  const grams = c.parts * c.densityGPerMl
  return {
    vocG: grams * Math.max(0, c.volatile - water - exempt),
    ml: c.parts,
    apartMl: grams * (water / WATER_G_PER_ML + exempt / (c.exemptDensity ?? 1)),
  }
}

function componentWrong(c: Component, i: number, basis: Basis): Wrong | null {
  const { water = 0, exempt = 0 } = c
  if (basis === 'us' && exempt > 0 && c.exemptDensity === undefined) {
    return {
      path: ['components', i, 'exemptDensity'],
      code: 'exemptDensity',
      params: {},
    }
  }
  if (water + exempt > c.volatile + ROUNDING) {
    return { path: ['components', i, 'volatile'], code: 'volatiles', params: {} }
  }
  const { apartMl, ml } = sharesOf(c, basis)
  if (apartMl <= ml * (1 + ROUNDING)) return null
  return { path: ['components', i, 'densityGPerMl'], code: 'roomForWater', params: {} }
}

type Mix = { readonly components: readonly Component[]; readonly basis: Basis }

function mixWrong({ components, basis }: Mix): Wrong | null {
  for (const [i, component] of components.entries()) {
    const wrong = componentWrong(component, i, basis)
    if (wrong) return wrong
  }
  const shares = components.map((c) => sharesOf(c, basis))
  const ml = sum(shares.map((s) => s.ml))
  if (ml - sum(shares.map((s) => s.apartMl)) > ml * ROUNDING) return null
  return { path: ['components'], code: 'notAllWater', params: {} }
}

/**
 * VOC content of a mix ready to spray. In: parts by volume, g/mL, mass fractions; `volatile` is all
 * volatiles, water and exempt solvent included. Out: g/L less water and exempt, and g/L as it is; by
 * basis `eu` exempt solvent counts as VOC in both.
 */
export const voc = calculator({
  name: 'voc',
  schema: crossChecked(
    fields({
      components: list(
        fields({
          parts: above0(1_000_000, 'parts by volume'),
          densityGPerMl,
          volatile: fraction,
          water: v.optional(fraction),
          exempt: v.optional(fraction),
          exemptDensity: v.optional(densityGPerMl),
        }),
        1,
        20,
      ),
      basis: v.optional(oneOf(['us', 'eu']), 'us'),
    }),
    mixWrong,
  ),
  about: {
    formula:
      'regulatory = (Wv − Ww − Wec) / (V − Vw − Vec); actual = (Wv − Ww − Wec) / V; by the European directive without Wec and Vec',
    units: 'g per liter; parts by volume; mass fractions; water is 1.00 g/mL',
    source:
      '40 CFR 59.104(a)(1): variables as read in the 2003 and 2007 texts, the layout of the fraction from memory; European basis: UK SI 2005/2773 reg. 2, and a government’s guidance on Directive 2004/42/EC, which discount water alone',
    caution:
      'Assumes that volumes add up. What counts as exempt differs by jurisdiction. For records use the maker’s own figures for this mixing ratio.',
  },
  run: ({ components, basis }) => {
    const shares = components.map((c) => sharesOf(c, basis))
    const vocMg = 1000 * sum(shares.map((s) => s.vocG))
    const ml = sum(shares.map((s) => s.ml))
    return {
      regulatoryGPerL: vocMg / (ml - sum(shares.map((s) => s.apartMl))),
      actualGPerL: vocMg / ml,
    }
  },
})

const gPerL = number(0, 3000, 'g/L')

/**
 * Average VOC of a topcoat in stages. In: g/L, less water and exempt, of the base, each midcoat and
 * the clear. Out: g/L; the clear counts twice.
 */
export const vocStages = calculator({
  name: 'vocStages',
  schema: fields({ base: gPerL, mid: list(gPerL, 0, 10), clear: gPerL }),
  about: {
    formula: '(base + Σ mid + 2 × clear) / (number of mid + 3)',
    units: 'g per liter, less water and exempt solvent',
    source:
      '40 CFR 59.104(a)(2): variables as read, layout from memory; the form without midcoats as in SLO County APCD Rule 423',
    caution: 'Only where the local rule averages stages; many judge each coating by itself.',
  },
  run: ({ base, mid, clear }) => ({ gPerL: (base + sum(mid) + 2 * clear) / (mid.length + 3) }),
})
