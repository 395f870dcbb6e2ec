import { describe, expect, test } from 'vitest'
import {
  around,
  BASE_CLEAR,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_ONLY,
  coat,
  DOOR,
  dueMin,
  MS,
  minuteOf,
  mix,
  refusalOf,
  SEALER_CUP,
  startCoat,
  vanWith,
} from '../../support/given.ts'
import { BASE, CLEAR, SEALER } from '../../support/sheets.ts'

/** A panel with one clear coat that was finished at minute 5. */
const oneClear = () => coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 5)
/** A panel with both base coats, the last finished at minute 20. */
const twoBase = () => coat(coat(vanWith(BASE_CLEAR), BASE_CUP, 1, 3), BASE_CUP, 18, 20)

describe('flash between the coats of a step', () => {
  // Common practice, no source: ten minutes between two coats of clear.
  test('a second clear coat is refused at nine minutes and accepted at ten when the sheet says ten', () => {
    const shop = oneClear()
    expect(shop.at(5 + 9).refused('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })).toBe(
      'flashNotOver',
    )
    expect(shop.at(5 + 10).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })).toHaveLength(1)
  })

  test('flash is over at its last millisecond, not one before', () => {
    expect(around(oneClear(), 15, startCoat(CLEAR_CUP))).toEqual(['flashNotOver', 'done'])
  })

  test('the refusal says when it clears, and how long that is', () => {
    const refusal = refusalOf(startCoat(CLEAR_CUP)(oneClear().at(14)))
    expect(minuteOf(refusal.clearsAt ?? 0)).toBe(15)
    expect(refusal.message).toBe('Rear door: It has not flashed yet. 1 min to go.')
  })

  test('flash counts from the finish of the coat, however long it was sprayed', () => {
    expect(dueMin(coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 25), 'coatReady')).toBe(35)
  })

  test('the first coat waits for nothing', () => {
    expect(startCoat(CLEAR_CUP)(vanWith(CLEAR_ONLY))).toHaveProperty('drafts')
  })

  test('a sheet that asks for no wait lets the next coat follow at once', () => {
    const sheet = { ...CLEAR, flashBetween: [{ atC: 20, minutes: 0 }] }
    const shop = coat(vanWith(CLEAR_ONLY, [sheet]), CLEAR_CUP, 1, 5)
    expect(startCoat(CLEAR_CUP)(shop.at(5))).toHaveProperty('drafts')
  })
})

describe('flash before the next step', () => {
  test("clear over base waits for the base's flash before next, not for its flash between coats", () => {
    expect(around(twoBase(), 35, startCoat(CLEAR_CUP))).toEqual(['flashNotOver', 'done'])
  })

  test('one coat more of the base waits only for the flash between coats', () => {
    expect(around(twoBase(), 28, startCoat(BASE_CUP))).toEqual(['flashNotOver', 'done'])
  })

  test.each([
    ['longer: it binds', 25, 45],
    ['shorter: the earlier sheet binds', 5, 35],
  ])('the later sheet may say over the base %s', (_, minutes, gateMin) => {
    const over = [{ stage: 'base', flashBeforeNext: [{ atC: 20, minutes }] }]
    const shop = coat(
      coat(vanWith(BASE_CLEAR, [BASE, { ...CLEAR, over }]), BASE_CUP, 1, 3),
      BASE_CUP,
      18,
      20,
    )
    expect(dueMin(shop, 'coatReady')).toBe(gateMin)
    expect(around(shop, gateMin, startCoat(CLEAR_CUP))).toEqual(['flashNotOver', 'done'])
  })

  test('what a sheet says over another stage does not count', () => {
    const over = [{ stage: 'primer', flashBeforeNext: [{ atC: 20, minutes: 60 }] }]
    const shop = coat(vanWith(BASE_CLEAR, [BASE, { ...CLEAR, over }]), BASE_CUP, 1, 3)
    expect(dueMin(coat(shop, BASE_CUP, 18, 20), 'coatReady')).toBe(35)
  })

  test("a later sheet's own word is read until that coat starts: bell and gate both follow an edit", () => {
    const shop = twoBase()
    const over = [{ stage: 'base', flashBeforeNext: [{ atC: 20, minutes: 30 }] }]
    shop.at(25).do('SaveSheet', { sheet: { ...CLEAR, over } })
    expect(around(shop, 50, startCoat(CLEAR_CUP))).toEqual(['flashNotOver', 'done'])
    expect(dueMin(shop, 'coatReady')).toBe(50)
  })
})

describe('activator and reducer', () => {
  const options = {
    activators: [
      { name: 'fast', fromC: 5, toC: 20, flashBetween: [{ atC: 20, minutes: 6 }] },
      { name: 'plain', fromC: 15, toC: 25 },
    ],
    reducers: [{ name: 'slow', fromC: 20, toC: 35, flashBetween: [{ atC: 20, minutes: 14 }] }],
  }
  test.each([
    ['neither carries a flash of its own', { activator: 'plain' }, 10],
    ["the activator's own flash replaces the sheet's", { activator: 'fast' }, 6],
    ["the reducer's own flash replaces the sheet's", { activator: 'plain', reducer: 'slow' }, 14],
    ['both carry one: the more cautious binds', { activator: 'fast', reducer: 'slow' }, 14],
  ])('%s', (_, chosen, minutes) => {
    const shop = vanWith(CLEAR_ONLY, [{ ...CLEAR, ...options }])
    coat(mix(shop, 'FFFF2222', CLEAR.sheet, chosen), 'FFFF2222', 1, 5)
    expect(around(shop, 5 + minutes, startCoat('FFFF2222'))).toEqual(['flashNotOver', 'done'])
  })
})

describe('what flash waits for', () => {
  const again = (shop: ReturnType<typeof oneClear>, min: number) =>
    shop.at(min).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })

  test('the entry keeps the gate that it was judged by', () => {
    const [draft] = again(oneClear(), 16)
    const judged = draft?.data.judged as { flashEndsAt: number; shutsAt: number }
    expect([minuteOf(judged.flashEndsAt), minuteOf(judged.shutsAt)]).toEqual([15, 485])
  })

  test('each panel waits for its own coat', () => {
    const shop = oneClear()
    shop.do('AddPanel', {
      job: 'JJJJ2222',
      panel: 'WWWW2222',
      name: 'Side',
      operation: 'repair',
      route: CLEAR_ONLY,
    })
    expect(shop.at(6).do('StartCoat', { panels: ['WWWW2222'], cup: CLEAR_CUP })).toHaveLength(1)
  })

  test('a later edit of the sheet never moves a flash that runs', () => {
    const shop = oneClear()
    shop.do('SaveSheet', { sheet: { ...CLEAR, flashBetween: [{ atC: 20, minutes: 40 }] } })
    expect(around(shop, 15, startCoat(CLEAR_CUP))).toEqual(['flashNotOver', 'done'])
    again(shop, 15)
    shop.at(17).do('FinishCoat', { panels: [DOOR] })
    shop.at(17 + 40 - MS)
    expect(shop.refused('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })).toBe('flashNotOver')
  })

  test('a sealer goes under base wet on wet after its own flash', () => {
    const route = [{ stage: 'sealer', sheet: SEALER.sheet }, ...BASE_CLEAR]
    const shop = coat(vanWith(route), SEALER_CUP, 1, 3)
    expect(around(shop, 18, startCoat(BASE_CUP))).toEqual(['flashNotOver', 'done'])
  })
})
