import { describe, expect, test } from 'vitest'
import { chipOf } from '../../kiosk/lanes/chip.ts'
import { type Lane, lanesOf } from '../../kiosk/lanes/lanes.ts'
import { passActs, wantsCup } from '../../kiosk/lanes/pass.ts'
import { en } from '../../kiosk/words/all.ts'
import { BASE_CLEAR, BASE_CUP, coat, DOOR, mix, SEALER_CUP, vanWith } from '../support/given.ts'
import { BASE, CLEAR, SEALER } from '../support/sheets.ts'
import { minute, type Shop } from '../support/shop.ts'

/** No dead end: a step that no work can end is said on its lane, and no key there leads nowhere. */

const laneAt = (shop: Shop, min: number) =>
  lanesOf(shop.state, minute(min)).find(({ panel }) => panel === DOOR) as Lane
const keysAt = (shop: Shop, min: number) =>
  passActs(shop.state, [laneAt(shop, min)], en, minute(min))
const wantsMix = (shop: Shop, min: number) => wantsCup([laneAt(shop, min)], keysAt(shop, min))
const chipAt = (shop: Shop, min: number) => chipOf(laneAt(shop, min), en, minute(min))

describe('a coat whose step names no product', () => {
  const shop = () => vanWith([{ stage: 'sealer', sheet: SEALER.sheet }, { stage: 'base' }])

  test('is said while the step before it waits', () => {
    const before = laneAt(shop(), 0)
    expect(before.noWay).toEqual({ code: 'noSheet', at: 1, isDue: false })
    expect(chipOf(before, en, minute(0)).big).toBe('SEALER 1')
  })

  test('offers no cup of the product under it, and no other one to mix', () => {
    const sealed = coat(shop(), SEALER_CUP, 1, 3).at(60)
    sealed.do('EmptyCup', { cup: BASE_CUP, how: 'discarded' })
    expect(laneAt(sealed, 60)).toMatchObject({ sheet: null, noWay: { isDue: true } })
    expect(chipAt(sealed, 60)).toMatchObject({ big: 'NO SHEET', small: 'choose the product' })
    const starts = keysAt(sealed, 60).filter(({ type }) => type === 'StartCoat')
    expect(starts.filter(({ isMain }) => isMain)).toEqual([])
    expect(wantsMix(sealed, 60)).toBe(false)
  })

  test('takes a cup of its stage, as its start does', () => {
    const sealed = coat(shop(), SEALER_CUP, 1, 3).at(60)
    const [start] = keysAt(sealed, 60).filter(({ type, isMain }) => type === 'StartCoat' && isMain)
    expect(start?.datas).toEqual([{ panels: [DOOR], cup: BASE_CUP }])
    sealed.do('StartCoat', start?.datas[0] ?? {})
  })
})

describe('a product that is out of use', () => {
  test('is sprayed from a cup that there is, and is not to be mixed', () => {
    const shop = vanWith(BASE_CLEAR)
    shop.do('RetireSheet', { sheet: BASE.sheet })
    expect(laneAt(shop, 0).noWay).toEqual({ code: 'noSheet', at: 0, isDue: true })
    expect(keysAt(shop, 0).some(({ isMain, type }) => isMain && type === 'StartCoat')).toBe(true)
    shop.do('EmptyCup', { cup: BASE_CUP, how: 'discarded' })
    expect(wantsMix(shop, 0)).toBe(false)
    // Saved again it is in use again.
    shop.do('SaveSheet', { sheet: BASE })
    expect(laneAt(shop, 0).noWay).toBeNull()
    expect(wantsMix(shop, 0)).toBe(true)
  })
})

describe('a product that its sheet forbids over what is on', () => {
  const picky = { ...BASE, over: [{ stage: 'sealer', recoatWithin: 'never' }] }
  const route = [{ stage: 'sealer', sheet: SEALER.sheet }, ...BASE_CLEAR]
  const sealed = () => coat(vanWith(route, [picky, CLEAR, SEALER]), SEALER_CUP, 1, 3).at(60)

  test('is not abraded away: neither the lane nor the refusal has that as its key', () => {
    const shop = sealed()
    expect(laneAt(shop, 60)).toMatchObject({
      waits: { for: 'abrade', why: 'never' },
      noWay: { code: 'never', at: 1, isDue: true },
    })
    expect(chipAt(shop, 60).big).toBe('STOP')
    const shown = keysAt(shop, 60).filter(({ type }) => type === 'AbradePanel')
    expect(shown.length).toBeGreaterThan(0)
    expect(shown.filter(({ group, isMain }) => group !== 'more' || isMain)).toEqual([])
  })

  test('has its way on once the step is skipped, or was overridden', () => {
    const skipped = sealed()
    skipped.do('SkipStep', { panel: DOOR, step: 1, reason: 'CUSTOMER_CHANGE' })
    expect(laneAt(skipped, 60).noWay).toBeNull()
    const forced = sealed()
    mix(forced, 'FFFF2222', BASE.sheet)
    const override = { reason: 'DELIBERATE_TECHNIQUE' }
    forced.do('StartCoat', { panels: [DOOR], cup: 'FFFF2222', override })
    forced.at(63).do('FinishCoat', { panels: [DOOR] })
    expect(laneAt(forced, 63).noWay).toBeNull()
  })
})

test('a cure to come that the last coat has no way for is said from the first step on', () => {
  const route = [...BASE_CLEAR, { stage: 'cure' }]
  const shop = vanWith(route, [BASE, { ...CLEAR, cure: {} }])
  expect(laneAt(shop, 0).noWay).toEqual({ code: 'noCure', at: 2, isDue: false })
  shop.do('SaveSheet', { sheet: CLEAR })
  expect(laneAt(shop, 0).noWay).toBeNull()
})
