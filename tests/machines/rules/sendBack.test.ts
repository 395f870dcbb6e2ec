import { describe, expect, test } from 'vitest'
import { dueStep } from '../../../machines/panel/context.ts'
import {
  around,
  BASE_CLEAR,
  BASE_CUP,
  bells,
  CLEAR_CUP,
  coat,
  DOOR,
  mix,
  outsideOf,
  panelOf,
  queued,
  said,
  startCoat,
  vanWith,
  whereIs,
} from '../../support/given.ts'
import { CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

const FRESH = 'FFFF2222'
const back = (shop: Shop, toStep: number, done: number): string =>
  said(shop.send('SendBackPanel', { panel: DOOR, toStep, done, reason: 'Run in the clear' }))
const counting = (shop: Shop): [number, boolean][] =>
  panelOf(shop).coats.map((c) => [c.step, c.counts])

/** Two coats of base, two of clear, the last finished at minute 52; a cure to come. */
function cleared(): Shop {
  const shop = vanWith([...BASE_CLEAR, { stage: 'cure' }])
  coat(coat(shop, BASE_CUP, 1, 3), BASE_CUP, 11, 13)
  return coat(coat(shop, CLEAR_CUP, 30, 32), CLEAR_CUP, 50, 52)
}

describe('a panel that is sent back', () => {
  test.each([
    [0, 0, [false, false, false, false], ['open', 'open', 'open']],
    [0, 1, [true, false, false, false], ['open', 'open', 'open']],
    [0, 9, [true, true, false, false], ['open', 'open', 'open']],
    [1, 0, [true, true, false, false], ['done', 'open', 'open']],
    [1, 1, [true, true, true, false], ['done', 'open', 'open']],
    [2, 0, [true, true, true, true], ['done', 'done', 'open']],
  ])('to step %i with %i coats done counts what is said', (toStep, done, counts, status) => {
    const shop = cleared()
    expect(back(shop, toStep, done)).toBe('done')
    expect(counting(shop).map(([, c]) => c)).toEqual(counts)
    expect([panelOf(shop).status, dueStep(panelOf(shop))]).toEqual([status, toStep])
  })

  test('goes on from there: one coat of clear more, and the step has ended again', () => {
    const shop = cleared()
    back(shop.at(55), 1, 1)
    expect(whereIs(shop)).toBe('clear.sentBack')
    mix(shop.at(60), FRESH, CLEAR.sheet)
    coat(shop, FRESH, 63, 65)
    expect(whereIs(shop)).toBe('cure.due')
  })

  test('back to work by hand, it is done again before the coats', () => {
    const shop = vanWith([{ stage: 'prep' }, ...BASE_CLEAR])
    shop.do('DoPrepStep', { panel: DOOR, step: 0 })
    coat(shop, BASE_CUP, 1, 3)
    back(shop, 0, 0)
    expect(said(startCoat(BASE_CUP)(shop.at(30)))).toBe('wrongStep')
    shop.do('DoPrepStep', { panel: DOOR, step: 0 })
    expect(whereIs(shop)).toBe('base.due')
    expect(said(startCoat(BASE_CUP)(shop))).toBe('done')
  })

  test('a coat for a later step skips the one to which it was sent back', () => {
    const shop = cleared()
    back(shop, 0, 0)
    mix(shop, FRESH, CLEAR.sheet)
    expect(said(startCoat(FRESH)(shop.at(70)))).toBe('wrongProduct')
    queued(shop.at(130), 70, 'StartCoat', { panels: [DOOR], cup: FRESH })
    expect([panelOf(shop).open?.step, panelOf(shop).status[0]]).toEqual([1, 'skipped'])
  })

  test('its film is still there: the coat waits for the flash of the one that no longer counts', () => {
    const shop = cleared()
    back(shop, 1, 0)
    mix(shop, FRESH, CLEAR.sheet)
    expect(around(shop, 62, startCoat(FRESH))).toEqual(['flashNotOver', 'done'])
  })

  test('coats that no longer count do not count against the most', () => {
    const shop = cleared()
    back(shop, 1, 0)
    mix(shop, FRESH, CLEAR.sheet)
    const marks = [70, 85, 100].map((min) => {
      const [draft] = shop.at(min).do('StartCoat', { panels: [DOOR], cup: FRESH })
      shop.at(min + 2).do('FinishCoat', { panels: [DOOR] })
      return draft?.outside
    })
    expect(marks).toEqual([undefined, undefined, undefined])
  })

  test('is not sent forward, and not while a coat runs', () => {
    const shop = vanWith(BASE_CLEAR)
    expect(back(shop, 1, 0)).toBe('wrongStep')
    expect(back(shop, 9, 0)).toBe('wrongStep')
    shop.at(1).do('StartCoat', { panels: [DOOR], cup: BASE_CUP })
    expect(back(shop, 0, 0)).toBe('coatRunning')
  })

  test('keeps the reason in its entry', () => {
    const [draft] = cleared().do('SendBackPanel', {
      panel: DOOR,
      toStep: 1,
      done: 0,
      reason: 'Run',
    })
    expect(draft?.data).toEqual({ toStep: 1, done: 0, reason: 'Run' })
    expect(() => cleared().parse('SendBackPanel', { panel: DOOR, toStep: 1, done: 0 })).toThrow(
      'data.reason is missing',
    )
  })
})

describe('a cured or passed panel', () => {
  const passed = (): Shop => {
    const shop = cleared()
    shop.at(60).do('StartCure', { panels: [DOOR], mode: 'air' })
    shop.at(60 + 720).do('PassPanel', { panel: DOOR })
    return mix(shop.at(800), FRESH, CLEAR.sheet)
  }

  test('is in work again, and must be abraded before it is cleared', () => {
    const shop = passed()
    expect(whereIs(shop)).toBe('passed')
    expect(back(shop, 1, 0)).toBe('done')
    expect([whereIs(shop), panelOf(shop).passedAt]).toEqual(['clear.sentBack', null])
    expect(said(startCoat(FRESH)(shop))).toBe('windowShut')
    shop.do('AbradePanel', { panel: DOOR, grit: 800 })
    expect(said(startCoat(FRESH)(shop))).toBe('done')
  })

  test('may be sanded first and sent back then: the sanding counts', () => {
    const shop = passed()
    shop.do('AbradePanel', { panel: DOOR, grit: 800 })
    back(shop.at(801), 1, 0)
    expect(said(startCoat(FRESH)(shop))).toBe('done')
  })

  test('takes no coat before it is sent back', () => {
    const shop = passed()
    expect(said(startCoat(FRESH)(shop.fork()))).toBe('wrongStep')
    const [draft] = queued(shop.at(860), 805, 'StartCoat', { panels: [DOOR], cup: FRESH })
    expect(outsideOf(draft)).toEqual(['wrongStep', 'windowShut'])
    expect([whereIs(shop), panelOf(shop).coats.length]).toEqual(['passed', 4])
  })

  test('sent back in the middle of a cure, it stops curing', () => {
    const shop = cleared()
    shop.at(60).do('StartCure', { panels: [DOOR], mode: 'air' })
    expect(back(shop.at(70), 1, 1)).toBe('done')
    expect(bells(shop, 'cureOver')).toEqual([])
    expect(shop.refused('EndCure', { panels: [DOOR] })).toBe('notCuring')
  })

  test('may be sent back as often as it takes', () => {
    const shop = passed()
    back(shop, 1, 0)
    shop.do('AbradePanel', { panel: DOOR, grit: 800 })
    coat(shop, FRESH, 801, 803)
    expect(back(shop.at(804), 0, 0)).toBe('done')
    expect(counting(shop).every(([, counts]) => !counts)).toBe(true)
    expect(whereIs(shop)).toBe('base.sentBack')
  })
})
