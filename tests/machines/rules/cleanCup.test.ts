import { describe, expect, test } from 'vitest'
import { gunLines, mayPourOut } from '../../../kiosk/lanes/gunLines.ts'
import { cupLabelOf } from '../../../labels/fromState.ts'
import { mixesIn } from '../../../machines/cup/mixes.ts'
import { longAwaited } from '../../../machines/waiting.ts'
import {
  around,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_ONLY,
  cupEndMin,
  cupOf,
  JOB,
  mix,
  outsideOf,
  queued,
  refusalOf,
  said,
  shopWith,
  startCoat,
  stateOf,
  vanWith,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

/** What is left in a gun whose cup is gone goes into a clean cup, and its time goes on (common practice, no source). */

const GUN = 'gun-1'
const NEW = 'NNNN2222'

/** Clear mixed at 0 and in the gun, its cup thrown away. */
function gone(): Shop {
  const shop = vanWith(CLEAR_ONLY)
  shop.do('LoadGun', { gun: GUN, cup: CLEAR_CUP })
  shop.at(10).do('EmptyCup', { cup: CLEAR_CUP, how: 'discarded' })
  return shop
}
const back = (shop: Shop, more: object = {}) =>
  shop.send('PourBack', { gun: GUN, cup: NEW, ml: 120, cleanCup: true, ...more })

describe('what is left in a gun whose cup is gone', () => {
  test('is a cup of its own, of the same product, that ends when the mix had to', () => {
    const shop = gone()
    expect(said(back(shop.at(40)))).toBe('done')
    const { sheet, totalMl, parents, firstMixedAt } = cupOf(shop, NEW)
    expect([sheet, totalMl, parents]).toEqual([CLEAR.sheet, 120, [CLEAR_CUP]])
    expect([firstMixedAt, cupEndMin(shop, NEW)]).toEqual([minute(0), 60])
    expect(around(shop, 60, startCoat(NEW))).toEqual(['done', 'potLifeOver'])
  })

  test('has a label of its own with the use-by of the mix', () => {
    const shop = gone()
    back(shop.at(40))
    expect(cupLabelOf(shop.state, NEW)).toMatchObject({ cup: NEW, useByMs: minute(60) })
    shop.do('PrintLabel', { cup: NEW })
    expect(cupOf(shop, NEW).prints.at(-1)?.untilMs).toBe(minute(60))
  })

  test('keeps the word of the label that its cup had, and what ran faster in the gun', () => {
    const shop = vanWith(CLEAR_ONLY)
    shop.do('PrintLabel', { cup: CLEAR_CUP })
    shop.do('LoadGun', { gun: GUN, cup: CLEAR_CUP })
    // Colder air since lets the clock run on; the label does not.
    shop.do('ReadClimate', { zone: 'bench', airC: 10, rh: 0.5 })
    shop.do('ReadClimate', { zone: 'booth', airC: 10, rh: 0.5 })
    shop.do('EmptyCup', { cup: CLEAR_CUP, how: 'used' })
    back(shop.at(40))
    expect(cupEndMin(shop, NEW)).toBe(60)
  })

  test('of two cups ends with the older one, and has the mixes of both', () => {
    const [slow, fast] = CLEAR.activators.map(({ name }) => name)
    const shop = shopWith()
    mix(shop, CLEAR_CUP, CLEAR.sheet, { activator: slow })
    shop.do('LoadGun', { gun: GUN, cup: CLEAR_CUP })
    const alone = shop.fork()
    mix(shop.at(5), 'FFFF2222', CLEAR.sheet, { activator: fast })
    shop.do('LoadGun', { gun: GUN, cup: 'FFFF2222' })
    for (const one of [shop, alone]) back(one.at(6))
    expect(mixesIn(cupOf(shop, NEW)).map(({ activator }) => activator)).toEqual([slow, fast])
    expect(cupEndMin(shop, NEW)).toBeLessThanOrEqual(cupEndMin(alone, NEW))
    expect(cupOf(shop, NEW).totalMl).toBe(120)
  })

  test('leaves the gun loaded until it is rinsed or cleaned, and takes nothing out of another cup', () => {
    const shop = gone()
    mix(shop, 'FFFF2222', CLEAR.sheet)
    back(shop.at(40))
    expect(stateOf(shop, 'gun', GUN)).toBe('loaded')
    expect(cupOf(shop, 'FFFF2222').pouredMl).toBe(0)
  })

  test('of a stored base keeps as long as the base does, and belongs to its job', () => {
    const shop = vanWith([{ stage: 'base', sheet: BASE.sheet }])
    mix(shop, 'FFFF2222', BASE.sheet, { job: JOB })
    shop.do('LoadGun', { gun: GUN, cup: 'FFFF2222' })
    back(shop.at(30))
    const { keepUntilMs, job, clocks } = cupOf(shop, NEW)
    expect([keepUntilMs, job, clocks]).toEqual([cupOf(shop, BASE_CUP).keepUntilMs, JOB, []])
  })

  test('goes as a mistake, and the id may be used again', () => {
    const shop = gone()
    back(shop.at(40))
    const pour = shop.entries.at(-1)
    shop.do('VoidEntry', { entry: pour?.id, reason: 'another gun' })
    expect(stateOf(shop, 'cup', NEW)).toBe('unmixed')
    expect(said(back(shop))).toBe('done')
  })
})

describe('it is refused', () => {
  test('without saying how much, by the field', () => {
    const answer = gone().send('PourBack', { gun: GUN, cup: NEW, cleanCup: true })
    expect('error' in answer && answer.error).toMatchObject({ code: 'value', field: 'data.ml' })
  })

  test('into a cup that is there: that one takes it as it is', () => {
    expect(said(back(gone(), { cup: CLEAR_CUP }))).toBe('idTaken')
  })

  test('from an empty gun, also late, and from one with two materials', () => {
    const shop = gone()
    shop.do('CleanGun', { gun: GUN })
    expect([refusalOf(back(shop)).code, refusalOf(back(shop)).overridable]).toEqual([
      ...['gunEmpty', false],
    ])
    const late = { gun: 'gun-9', cup: NEW, ml: 9, cleanCup: true }
    expect(() => queued(shop.at(50), 40, 'PourBack', late)).toThrow('gunEmpty')
    const dirty = gone()
    mix(dirty, 'GGGG2222', BASE.sheet)
    dirty.do('LoadGun', { gun: GUN, cup: 'GGGG2222', override: { reason: 'EQUIPMENT' } })
    expect(said(back(dirty))).toBe('gunHolds')
  })

  test('past the time of what is in the gun, and not a millisecond before; late it is marked', () => {
    expect(around(gone(), 60, back)).toEqual(['done', 'gunHolds'])
    const [entry] = queued(gone().at(200), 61, 'PourBack', {
      ...{ gun: GUN, cup: NEW, ml: 120, cleanCup: true },
    })
    expect(outsideOf(entry)).toEqual(['gunHolds'])
  })

  test('never for a cup that another device mixed and has not told yet: it waits for that one', () => {
    const shop = shopWith()
    const late = { gun: GUN, cup: 'MMMM2222' }
    queued(shop.at(50), 5, 'LoadGun', late)
    queued(shop, 40, 'PourBack', { gun: GUN, cup: NEW, ml: 120, cleanCup: true })
    expect(stateOf(shop, 'cup', NEW)).toBe('unmixed')
    expect(longAwaited(shop.state, minute(70)).map(({ id }) => id)).toEqual(['MMMM2222'])
    queued(shop, 0, 'MixCup', { cup: 'MMMM2222', sheet: CLEAR.sheet, totalMl: 300 })
    expect([cupOf(shop, NEW).totalMl, cupEndMin(shop, NEW)]).toEqual([120, 60])
  })
})

test('a gun offers it while it is loaded with what can still be used', () => {
  const shop = gone()
  const may = (min: number) => gunLines(shop.state).map((gun) => mayPourOut(gun, minute(min)))
  expect([may(59), may(60)]).toEqual([[true], [false]])
  shop.do('CleanGun', { gun: GUN })
  expect(may(30)).toEqual([false])
})
