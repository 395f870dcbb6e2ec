import { describe, expect, test } from 'vitest'
import { check } from '../../machines/accept.ts'
import { routeProblems } from '../../machines/plan/routeProblems.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { sheetSchema } from '../../machines/sheet/sheetSchema.ts'
import { BASE, CLEAR, SEALER } from '../support/sheets.ts'

const sheet = (given: object): Sheet => {
  const checked = check(sheetSchema, given)
  if (!checked.ok) throw new Error(JSON.stringify(checked.error))
  return checked.value
}
const base = sheet(BASE)
const clear = sheet(CLEAR)
const sealer = sheet(SEALER)
const step = (stage: Sheet['stage'] | 'cure', of?: Sheet) => ({
  stage,
  face: 'whole' as const,
  ...(of ? { sheet: of.sheet } : {}),
})
const codes = (route: Parameters<typeof routeProblems>[0], sheets: Sheet[]) =>
  routeProblems(route, sheets).map(({ code, at }) => `${at} ${code}`)

describe('a route that would end without a way on', () => {
  test('a whole route has none', () => {
    const route = [
      step('sealer', sealer),
      step('base', base),
      step('clear', clear),
      step('cure', clear),
    ]
    expect(codes(route, [sealer, base, clear])).toEqual([])
  })

  test('a cure of what its sheet knows no cure for, by the last coat and not by the name in the step', () => {
    expect(
      codes([step('clear', clear), step('base', base), step('cure', clear)], [base, clear]),
    ).toEqual(['2 noCure'])
    // Of nothing sprayed in this route its own sheet counts.
    expect(codes([step('cure', base)], [base])).toEqual(['0 noCure'])
    expect(codes([step('cure', clear)], [clear])).toEqual([])
  })

  test('an empty list of bakes is no way; the cure of an activator is one', () => {
    const cold = sheet({ ...CLEAR, cure: { bake: [] } })
    expect(codes([step('clear', cold), step('cure', cold)], [cold])).toEqual(['1 noCure'])
    const quick = sheet({
      ...CLEAR,
      cure: {},
      activators: [
        { name: 'quick', fromC: 15, toC: 25, cure: { air: [{ atC: 20, minutes: 90 }] } },
      ],
    })
    expect(codes([step('clear', quick), step('cure', quick)], [quick])).toEqual([])
  })

  test('a coat whose sheet is retired, or that was never given one', () => {
    expect(codes([step('base'), step('clear', clear)], [base])).toEqual(['0 noSheet', '1 noSheet'])
  })

  test('what is skipped stops nobody, and lies under nothing', () => {
    const picky = sheet({ ...BASE, over: [{ stage: 'sealer', recoatWithin: 'never' }] })
    const route = [step('sealer', sealer), step('base', picky), step('clear')]
    const left = (skipped: readonly number[]) =>
      routeProblems(route, [sealer, picky], (at) => skipped.includes(at)).map(({ at }) => at)
    expect([left([]), left([0]), left([1, 2])]).toEqual([[1, 2], [2], []])
  })

  test.each([
    ['a stage', { stage: 'sealer' }],
    ['a product', { sheet: SEALER.sheet }],
  ])('a product that must never go over %s that is under it', (_, over) => {
    const picky = sheet({ ...BASE, over: [{ ...over, recoatWithin: 'never' }] })
    expect(codes([step('sealer', sealer), step('base', picky)], [sealer, picky])).toEqual([
      '1 never',
    ])
    expect(codes([step('clear', clear), step('base', picky)], [clear, picky])).toEqual([])
  })
})
