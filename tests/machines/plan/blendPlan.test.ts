import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { check } from '../../../machines/accept.ts'
import { OPERATIONS } from '../../../machines/panel/context.ts'
import { BODIES } from '../../../machines/plan/blendFields.ts'
import {
  type BlendInput,
  blendPlan,
  blendSchema,
  bodyOf,
  COLOUR_KINDS,
} from '../../../machines/plan/blendPlan.ts'
import { bodyTypes, neighbors } from '../../../machines/trade/panels.ts'
import { en } from '../../../machines/words/en.ts'

/** How far a color goes over its neighbors: common practice, no source. */

const of = (
  panel: string,
  operation: BlendInput['panels'][number]['operation'] = 'repair',
  offVehicle = false,
) => ({ panel, operation, offVehicle })

const planOf = (colour: BlendInput['colour'], ...panels: BlendInput['panels']) =>
  blendPlan({ body: 'van', colour, panels })

const shares = (plan: ReturnType<typeof blendPlan>, panel: string) =>
  plan.blends
    .find((one) => one.panel === panel)
    ?.reach.map(({ layer, share, endsAt }) => [layer, share, endsAt])

test('the bodies that commands name are those that are drawn', () => {
  expect(bodyTypes.map(({ id }) => id)).toEqual([...BODIES])
})

describe('the plan of a blend', () => {
  test('a metallic repair of the rear side goes half over its neighbors and ends at a body line there', () => {
    const plan = planOf('metallic', of('right-rear-side'))
    expect(plan.blends.map(({ panel }) => panel)).toEqual([
      'roof',
      'rear-bumper',
      'right-side-door',
      'right-rear-door',
      'right-rocker',
    ])
    expect(shares(plan, 'right-side-door')).toEqual([['base', 0.5, 'bodyLine']])
    expect(plan.blends.every(({ isIfSeen }) => !isIfSeen)).toBe(true)
  })

  test('a solid color is blended only where the card differs', () => {
    expect(planOf('solid', of('hood')).blends.every(({ isIfSeen }) => isIfSeen)).toBe(true)
  })

  test('the midcoat of three stages passes beyond the ground coat, and over a second neighbor', () => {
    const plan = planOf('three-stage', of('right-rear-door'))
    const [ground, midcoat] =
      plan.blends.find((one) => one.panel === 'right-rear-side')?.reach ?? []
    expect(midcoat?.share).toBeGreaterThan(ground?.share ?? 1)
    expect(midcoat?.endsAt).toBe('edge')
    const second = plan.blends.find((one) => one.panel === 'right-side-door')
    expect(second).toMatchObject({ beside: ['right-rear-side'], isIfSeen: true })
    expect(second?.reach.map(({ layer }) => layer)).toEqual(['midcoat'])
    // It is still proposed once the first neighbor was taken, and never on the other side of the roof.
    const taken = planOf('three-stage', of('right-rear-door'), of('right-rear-side', 'blend'))
    expect(taken.blends.map(({ panel }) => panel)).toContain('right-side-door')
    expect(taken.blends.map(({ panel }) => panel)).not.toContain('left-side-door')
  })

  test('a mirror has no room to fade: the color goes to its edge', () => {
    expect(shares(planOf('metallic', of('left-front-door')), 'left-mirror')).toEqual([
      ['base', 1, 'edge'],
    ])
  })

  test('clear covers the whole of each, and ends at a body line only where no edge is', () => {
    const { clear } = planOf('metallic', of('right-rear-door'))
    expect(clear.find(({ panel }) => panel === 'right-rear-side')?.bodyLineTo).toEqual([
      'right-rocker',
    ])
    expect(clear.find(({ panel }) => panel === 'right-rear-door')?.bodyLineTo).toEqual([])
    // The neighbor's neighbors of two stages are not cleared.
    expect(clear.some(({ panel }) => panel === 'right-side-door')).toBe(false)
  })

  test('parts that are off the vehicle are cut in first', () => {
    const plan = planOf('solid', of('hood', 'new-part', true), of('left-front-door', 'repair'))
    expect(plan.cutIn).toEqual(['hood'])
  })

  test('a job of blends and clear alone needs no plan', () => {
    expect(planOf('pearl', of('hood', 'blend'), of('roof', 'clear-only')).blends).toEqual([])
  })

  test('of any choice: only what touches is proposed, nothing twice, and no layer leaves its panel', () => {
    const input = fc.constantFrom(...BODIES).chain((body) =>
      fc.record({
        body: fc.constant(body),
        colour: fc.constantFrom(...COLOUR_KINDS),
        panels: fc.uniqueArray(
          fc.record({
            panel: fc.constantFrom(...bodyOf(body).panels.map(({ id }) => id)),
            operation: fc.constantFrom(...OPERATIONS),
            offVehicle: fc.boolean(),
          }),
          { selector: ({ panel }) => panel, minLength: 1 },
        ),
      }),
    )
    fc.assert(
      fc.property(input, (given) => {
        const { blends, clear } = blendPlan(given)
        const names = blends.map(({ panel }) => panel)
        expect(new Set(names).size).toBe(names.length)
        for (const { panel, beside, reach } of blends) {
          expect(given.panels.some((one) => one.panel === panel)).toBe(false)
          expect(beside.length).toBeGreaterThan(0)
          for (const one of beside) expect(neighbors(bodyOf(given.body), panel)).toContain(one)
          for (const { share, reachCm } of reach) {
            expect(share).toBeLessThanOrEqual(1)
            expect(reachCm).toBeGreaterThan(0)
          }
        }
        for (const { panel } of given.panels)
          expect(clear.some((one) => one.panel === panel)).toBe(true)
      }),
    )
  })
})

describe('what the body does not have', () => {
  const wrong = (input: object) => {
    const checked = check(blendSchema, input)
    if (checked.ok) throw new Error('was taken')
    return checked.error
  }
  const input = { body: 'van', colour: 'solid' }

  test('a panel of another body is named, with those that this one has', () => {
    const error = wrong({ ...input, panels: [of('trunk-lid')] })
    expect(error).toMatchObject({ code: 'panelOfBody', field: 'panels.0.panel' })
    expect(JSON.stringify(error.params)).toContain('right-rear-door')
    expect(en.rules.panelOfBody({ body: 'van', panels: ['hood'] }, {} as never)).toBe(
      'a panel that a van has: hood',
    )
  })

  test('a panel twice, none, and a kind of color that nobody mixes', () => {
    expect(wrong({ ...input, panels: [of('hood'), of('hood')] }).code).toBe('noneTwice')
    expect(wrong({ ...input, panels: [] }).code).toBe('list')
    expect(wrong({ ...input, colour: 'striped', panels: [of('hood')] }).code).toBe('oneOf')
  })
})
