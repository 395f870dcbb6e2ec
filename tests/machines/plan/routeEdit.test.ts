import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { RouteStep } from '../../../machines/commands.ts'
import { currentSheets } from '../../../machines/plan/route.ts'
import {
  coatsOfStep,
  fixedSteps,
  movedStep,
  nudgedCoats,
  routeOf,
  withCoats,
  withFace,
  withoutStep,
  withSheet,
  withStep,
} from '../../../machines/plan/routeEdit.ts'
import { usualRoute } from '../../../machines/plan/usualRoute.ts'
import { STAGES } from '../../../machines/sheet/schema.ts'
import { BASE, CLEAR, SEALER } from '../../support/sheets.ts'
import { Shop } from '../../support/shop.ts'
import { madeContext } from '../../support/things.ts'

const JOB = 'VANREAR2'
const DOOR = 'SDEDR222'
const CUP = 'BASE3W9K'

function vanShop(): Shop {
  const shop = new Shop()
  for (const sheet of [BASE, CLEAR, SEALER]) shop.do('SaveSheet', { sheet })
  shop.do('OpenJob', { job: JOB, title: 'Delivery van', colours: [{ key: 'body', code: 'W1' }] })
  const route = usualRoute('repair', false, currentSheets(shop.state), 'body')
  shop.do('AddPanel', { job: JOB, panel: DOOR, name: 'Sliding door', operation: 'repair', route })
  return shop
}
const doorOf = (shop: Shop) => madeContext(shop.state, 'panel', DOOR)
const stages = (route: readonly RouteStep[]) => route.map(({ stage }) => stage)

describe('a route that is changed', () => {
  test('and one that is not may both be sent unchanged', () => {
    const shop = vanShop()
    const before = doorOf(shop)
    shop.do('SetRoute', { panel: DOOR, route: routeOf(before.route) })
    expect(doorOf(shop)).toEqual(before)
  })

  test('takes a step in, with the sheet and color that its stage wants, and a cure of what it cures', () => {
    const sheets = currentSheets(vanShop().state)
    const route = withStep([{ stage: 'prep', face: 'whole' }], 1, 'base', sheets, 'body')
    expect(route[1]).toEqual({ stage: 'base', sheet: BASE.sheet, colour: 'body', face: 'whole' })
    expect(withStep(route, 2, 'cure', sheets, 'body')[2]).toEqual({
      stage: 'cure',
      sheet: BASE.sheet,
      face: 'whole',
    })
    expect(withStep(route, 2, 'sand', sheets, 'body')[2]).toEqual({ stage: 'sand', face: 'whole' })
  })

  test('moves a step by one place and leaves it at the ends', () => {
    const route = (['prep', 'sealer', 'base'] as const).map((stage) => ({
      stage,
      face: 'whole' as const,
    }))
    expect(stages(movedStep(route, 2, -1))).toEqual(['prep', 'base', 'sealer'])
    expect(stages(movedStep(route, 0, 1))).toEqual(['sealer', 'prep', 'base'])
    expect(movedStep(route, 0, -1)).toBe(route)
    expect(movedStep(route, 2, 1)).toBe(route)
    expect(stages(withoutStep(route, 1))).toEqual(['prep', 'base'])
  })

  test('has the coats of its new sheet again, not those of the old one', () => {
    const sheets = currentSheets(vanShop().state)
    const own = { least: 4, planned: 5, most: 6 }
    const route = withCoats([{ stage: 'base', sheet: BASE.sheet, face: 'whole' }], 0, own)
    expect(coatsOfStep(route[0] as RouteStep, sheets)).toEqual(own)
    const other = withSheet(route, 0, BASE.sheet)
    expect(coatsOfStep(other[0] as RouteStep, sheets)).toEqual(BASE.coats)
    expect(coatsOfStep({ stage: 'prep', face: 'whole' }, sheets)).toBeNull()
    expect(
      coatsOfStep(
        { stage: 'base', sheet: BASE.sheet, coats: { planned: 1 }, face: 'whole' },
        sheets,
      ),
    ).toEqual({ least: 1, planned: 1, most: 4 })
  })

  test('keeps its first steps as far as work was done on them, and the shop takes every later change', () => {
    const shop = vanShop()
    expect(fixedSteps(doorOf(shop))).toBe(0)
    shop.do('DoPrepStep', { panel: DOOR, step: 0 })
    expect(fixedSteps(doorOf(shop))).toBe(1)
    shop.do('MixCup', { cup: CUP, sheet: BASE.sheet, totalMl: 300 })
    shop.do('StartCoat', { panels: [DOOR], cup: CUP })
    expect(fixedSteps(doorOf(shop))).toBe(2)
    shop.at(2).do('FinishCoat', { panels: [DOOR] })
    const fixed = fixedSteps(doorOf(shop))
    const route = routeOf(doorOf(shop).route)
    const longer = withStep(route, fixed, 'sealer', currentSheets(shop.state))
    shop.do('SetRoute', { panel: DOOR, route: withFace(longer, fixed, 'spot') })
    expect(stages(routeOf(doorOf(shop).route))).toEqual([
      'prep',
      'base',
      'sealer',
      'clear',
      'cure',
      'polish',
    ])
    expect(shop.refused('SetRoute', { panel: DOOR, route: withoutStep(route, 1) })).toBe(
      'routeInUse',
    )
  })
})

test('coats that are changed one by one stay least ≤ planned ≤ most, from 1 to 20', () => {
  const nudge = fc.record({
    which: fc.constantFrom('least' as const, 'planned' as const, 'most' as const),
    by: fc.constantFrom(-1 as const, 1 as const),
  })
  fc.assert(
    fc.property(fc.array(nudge, { maxLength: 60 }), (nudges) => {
      let coats = { least: 1, planned: 2, most: 4 }
      for (const { which, by } of nudges) {
        const before = coats[which]
        coats = nudgedCoats(coats, which, by)
        expect(coats[which]).toBe(Math.min(20, Math.max(1, before + by)))
        expect(coats.least).toBeLessThanOrEqual(coats.planned)
        expect(coats.planned).toBeLessThanOrEqual(coats.most)
        expect(coats.least).toBeGreaterThanOrEqual(1)
        expect(coats.most).toBeLessThanOrEqual(20)
      }
    }),
  )
})

test('any route of added steps is one that the shop accepts for a new panel', () => {
  const shop = vanShop()
  const sheets = currentSheets(shop.state)
  const known = STAGES.filter(
    (stage) => !['adhesion-promoter', 'primer', 'midcoat', 'single-stage'].includes(stage),
  )
  fc.assert(
    fc.property(fc.array(fc.constantFrom(...known), { minLength: 1, maxLength: 12 }), (wanted) => {
      const route = wanted.reduce<readonly RouteStep[]>(
        (so, stage) => withStep(so, so.length, stage, sheets, 'body'),
        [],
      )
      const panel = 'NEWPAN22'
      shop.fork().do('AddPanel', { job: JOB, panel, name: 'Roof', operation: 'repair', route })
    }),
  )
})
