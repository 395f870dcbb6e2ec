import { describe, expect, test } from 'vitest'
import { judgeVoc, jurisdictions } from '../../../machines/trade/vocLimits.ts'
import examples from '../../reference/voc-examples.json'
import eu from '../../reference/voc-limits-eu.json'
import us from '../../reference/voc-limits-us.json'
import { answer, refusal } from './asking.ts'

const G_PER_L_PER_LB_GAL = us.lbGalToGL

/** A component of some parts that gives off some lb of VOC a gallon. */
const of = (parts: number, vocLbGal: number) => {
  const vocGPerMl = (vocLbGal * G_PER_L_PER_LB_GAL) / 1000
  return { parts, densityGPerMl: 1.25, volatile: vocGPerMl / 1.25 }
}
const solids = (parts: number) => ({ parts, densityGPerMl: 1.5, volatile: 0 })
const water = (parts: number) => ({ parts, densityGPerMl: 1, volatile: 1, water: 1 })

const lbGal = (components: object[]) => {
  const { regulatoryGPerL, actualGPerL } = answer('voc', { components })
  return {
    lessWater: regulatoryGPerL / G_PER_L_PER_LB_GAL,
    actual: actualGPerL / G_PER_L_PER_LB_GAL,
  }
}
const example = (id: string) => {
  const found = examples.examples.find((e) => e.id === id)
  if (!found) throw new Error(`no example ${id}`)
  return found
}

describe('VOC of a mix against published examples', () => {
  test('1 gal at 2.5 and 0.25 gal at 6.8 lb/gal make 3.36 (Metal Finishing Guidebook 2013, App. B, Table I)', () => {
    expect(lbGal([of(1, 2.5), of(0.25, 6.8)]).actual).toBeCloseTo(3.36, 2)
  })

  test('thinning: 3.33, 3.47, and 3.5 lb/gal at 0.55 gal (same, Tables III to V; 15.9/5 from Table II)', () => {
    const mix = of(5, example('mix2').vocLbGal as number)
    expect(lbGal([mix, of(0.25, 6.4)]).actual).toBeCloseTo(example('thin1').vocLbGal as number, 2)
    expect(lbGal([mix, of(0.5, 6.4)]).actual).toBeCloseTo(example('thin2').vocLbGal as number, 2)
    expect(lbGal([mix, of(example('thinMax').yGal as number, 6.4)]).actual).toBeCloseTo(3.5, 2)
  })

  test('water changes nothing less water: 5.0 and 2.775 lb/gal (same, Examples 1 and 2, untruncated)', () => {
    expect(lbGal([of(1, 5), water(1)]).lessWater).toBeCloseTo(5, 9)
    expect(lbGal([of(1, 5), water(1)]).actual).toBeCloseTo(2.5, 9)
    const mix = lbGal([of(3, 3.1), of(1, 1.8), water(7)])
    expect(mix.lessWater).toBeCloseTo(example('water2').vocLessWaterLbGal as number, 9)
  })

  test('52 % water, 42 % solids and 6 % VOC at 7.36 lb/gal: 0.92, the corrected Example 3', () => {
    const pure = { parts: 6, densityGPerMl: 0.8819, volatile: 1 }
    const mix = lbGal([water(52), solids(42), pure])
    expect(mix.lessWater).toBeCloseTo(example('water3').correct as number, 2)
  })

  test('20.8 % solids and 53.0 % water by weight at 8.52 lb/gal: 2.232 and 4.87 lb/gal (Paints & Coatings Resource Center, 2004)', () => {
    const densityGPerMl = (8.52 * G_PER_L_PER_LB_GAL) / 1000
    const mix = lbGal([{ parts: 1, densityGPerMl, volatile: 0.792, water: 0.53 }])
    expect(mix.actual).toBeCloseTo(2.232, 3)
    // The example takes water at 8.33 lb/gal, the rule here at 1.00 g/mL (8.345).
    expect(Math.abs(mix.lessWater - 4.87)).toBeLessThan(0.01)
  })

  test('0.408 gal of VOC at 7.36 lb/gal with 0.592 gal of solids: 3 lb/gal and 5.064 a gallon of solids (Fla. Admin. Code 62-296.500)', () => {
    const { galVocPerGal, galSolids, vocLbPerGalSolids } = example('solids')
    const densityGPerMl = (7.36 * G_PER_L_PER_LB_GAL) / 1000
    const pure = { parts: galVocPerGal, densityGPerMl, volatile: 1 }
    const mix = lbGal([pure, solids(galSolids as number)])
    expect(mix.lessWater).toBeCloseTo(3, 2)
    expect(mix.lessWater / (galSolids as number)).toBeCloseTo(vocLbPerGalSolids as number, 1)
  })

  test('exempt solvent: z = y / (1 − x/d) for y lb/gal VOC, x lb/gal exempt of d lb/gal (same rule)', () => {
    const [y, x, d] = [2, 3, 6.6]
    const gPerMl = (lb: number) => (lb * G_PER_L_PER_LB_GAL) / 1000
    const coating = {
      parts: 1,
      densityGPerMl: 1.2,
      volatile: gPerMl(x + y) / 1.2,
      exempt: gPerMl(x) / 1.2,
      exemptDensity: gPerMl(d),
    }
    expect(lbGal([coating]).lessWater).toBeCloseTo(y / (1 - x / d), 9)
  })

  test('by the European directive exempt solvent is VOC and only water is discounted', () => {
    const component = { parts: 1, densityGPerMl: 1.2, volatile: 0.6, water: 0.25, exempt: 0.1 }
    // 1,200 g a liter: 420 g of volatiles that are not water, in 1 L less 300 mL of water.
    const eu = answer('voc', { components: [component], basis: 'eu' })
    expect(eu.actualGPerL).toBeCloseTo(420, 9)
    expect(eu.regulatoryGPerL).toBeCloseTo(600, 9)
    const us = answer('voc', { components: [{ ...component, exemptDensity: 1.2 }] })
    expect(us.actualGPerL).toBeCloseTo(300, 9)
    expect(us.regulatoryGPerL).toBeCloseTo(500, 9)
  })

  test('stages: the clear counts twice (40 CFR 59.104(a)(2); examples derived from it)', () => {
    for (const { voc_bc, voc_mc, voc_cc, multi } of us.examplesDerived) {
      const asked = { base: voc_bc, mid: voc_mc ?? [], clear: voc_cc }
      expect(answer('vocStages', asked).gPerL).toBeCloseTo(multi, 2)
    }
  })
})

describe('VOC limits as data', () => {
  const byId = (id: string) => {
    const found = jurisdictions.find((j) => j.id === id)
    if (!found) throw new Error(`no jurisdiction ${id}`)
    return found
  }
  const values = (limits: readonly { gPerL: number }[]) => limits.map((limit) => limit.gPerL)

  test('the US figures are those of a state’s table in pounds per gallon, and say so', () => {
    const federal = byId('us-federal')
    expect(values(federal.limits)).toEqual(values(us.limits))
    // 6 NYCRR 228-1.4, Table A; a gallon is 3.785 411 784 L and a pound 453.592 37 g.
    const gPerLb = 453.59237 / 3.785411784
    for (const [i, lb] of us.stateTable.lbPerGal.entries())
      expect(Math.abs((federal.limits[i]?.gPerL ?? 0) / gPerLb - lb)).toBeLessThan(0.1)
    expect(us.stateTable.lbPerGal).toHaveLength(federal.limits.length)
    expect(federal.knowledge).toBe('secondHand')
    expect(federal.knowledgeSentence).toContain('not read in the rule itself')
  })

  test('the European figures are those of the directive as read in a government’s guidance', () => {
    expect(values(byId('eu').limits)).toEqual(values(eu.limits))
    expect(byId('eu').knowledge).toBe('secondHand')
  })

  test('a mix for two categories takes the stricter limit, and the judgement carries what is known (40 CFR 59.102(b))', () => {
    const mix = { regulatoryGPerL: 560, actualGPerL: 560 }
    const judged = judgeVoc(byId('us-federal'), ['primer', 'sealer'], mix)
    expect(judged).toMatchObject({ limit: { id: 'sealer', gPerL: 550 }, isWithin: false })
    expect(judged?.knowledgeSentence).toContain('not read in the rule itself')
    expect(judgeVoc(byId('us-federal'), ['primer'], mix)?.isWithin).toBe(true)
  })

  test('Europe discounts water, except in what prepares and cleans', () => {
    const wet = { regulatoryGPerL: 400, actualGPerL: 100 }
    expect(judgeVoc(byId('eu'), ['pre-cleaner'], wet)).toMatchObject({ gPerL: 100, isWithin: true })
    expect(judgeVoc(byId('eu'), ['topcoat'], wet)?.gPerL).toBe(400)
  })

  test('a category a jurisdiction does not know is not judged', () => {
    expect(judgeVoc(byId('eu'), ['sealer'], { regulatoryGPerL: 1, actualGPerL: 1 })).toBeNull()
  })
})

describe('a mix that cannot be', () => {
  const refused = (component: object) =>
    refusal('voc', { components: [{ ...of(1, 3), ...component }] }).field

  test('each impossibility names its own field', () => {
    expect(refused({ water: 0.9 })).toBe('components.0.volatile')
    expect(refused({ volatile: 1, exempt: 0.2 })).toBe('components.0.exemptDensity')
    expect(refused({ densityGPerMl: 1.5, volatile: 1, water: 0.9 })).toBe(
      'components.0.densityGPerMl',
    )
    expect(refused({ volatile: 55 })).toBe('components.0.volatile')
    expect(refused({ parts: 0 })).toBe('components.0.parts')
    expect(refusal('voc', { components: [] }).field).toBe('components')
  })

  test('water alone has no VOC content less water', () => {
    expect(refusal('voc', { components: [water(3)] }).field).toBe('components')
  })

  test('a stage of minus 3 g/L is named', () => {
    expect(refusal('vocStages', { base: 500, mid: [-3], clear: 400 }).field).toBe('mid.0')
  })
})
