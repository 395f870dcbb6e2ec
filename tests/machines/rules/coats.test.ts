import { describe, expect, test } from 'vitest'
import {
  addPanel,
  BASE_CLEAR,
  BASE_CUP,
  CLEAR_CUP,
  coat,
  DOOR,
  gunOf,
  mix,
  outsideOf,
  panelOf,
  queued,
  said,
  shopWith,
  startCoat,
  vanWith,
  whereIs,
} from '../../support/given.ts'
import { BASE } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

const FRESH = 'FFFF2222'
const cover = (shop: Shop): string => said(shop.send('ReachCover', { panel: DOOR }))
/** Coats of base, ten minutes apart: each flashes for eight. */
function based(count: number, shop = vanWith(BASE_CLEAR)): Shop {
  for (let n = 0; n < count; n += 1) coat(shop, BASE_CUP, 10 * n, 10 * n + 2)
  return shop
}

describe('coats are a plan', () => {
  test('a step ends at its planned coats', () => {
    expect(whereIs(based(1))).toBe('base.between')
    expect(whereIs(based(2))).toBe('clear.due')
  })

  test('below the least the painter cannot say covered, from the least on he can', () => {
    const shop = vanWith([{ ...BASE_CLEAR[0], coats: { least: 2, planned: 3, most: 4 } }])
    expect(cover(based(1, shop))).toBe('tooFewCoats')
    expect(cover(coat(shop, BASE_CUP, 10, 12))).toBe('done')
    expect(whereIs(shop)).toBe('finished')
  })

  test('once a step has ended, covered is asked of the next', () => {
    expect(cover(based(2))).toBe('tooFewCoats')
  })

  test('covered cannot be said of work by hand, nor while a coat runs', () => {
    expect(cover(vanWith([{ stage: 'prep' }, ...BASE_CLEAR]))).toBe('wrongStep')
    const shop = based(2)
    shop.at(30).do('StartCoat', { panels: [DOOR], cup: BASE_CUP })
    expect(cover(shop)).toBe('coatRunning')
  })

  test('one more is allowed up to the most; beyond it is marked outside, and not refused', () => {
    const shop = based(2)
    const marks = [3, 4, 5].map((n) => {
      const [draft] = shop.at(10 * n).do('StartCoat', { panels: [DOOR], cup: BASE_CUP })
      shop.at(10 * n + 2).do('FinishCoat', { panels: [DOOR] })
      return draft?.outside
    })
    expect(marks).toEqual([undefined, undefined, [{ code: 'tooManyCoats', limit: 4, value: 5 }]])
    expect([panelOf(shop).coats.length, whereIs(shop)]).toEqual([5, 'clear.due'])
  })

  test('after covered, one more may still follow', () => {
    const shop = vanWith([{ ...BASE_CLEAR[0], coats: 3 }, BASE_CLEAR[1] as object])
    expect(cover(based(2, shop))).toBe('done')
    coat(shop, BASE_CUP, 20, 22)
    expect(panelOf(shop).coats.map((c) => c.step)).toEqual([0, 0, 0])
    expect(whereIs(shop)).toBe('clear.due')
  })

  test.each([
    ['one number is the planned one, inside what the sheet allows', 3, [2, 3, 4]],
    ['a plan below the least lowers it', 1, [1, 1, 4]],
    ['a plan above the most raises it', 6, [2, 6, 6]],
    ['three numbers stand as they are', { least: 1, planned: 1, most: 1 }, [1, 1, 1]],
    ["without any the sheet's stand", undefined, [2, 2, 4]],
    ['only a plan', { planned: 3 }, [2, 3, 4]],
    ['only a least, above the plan of the sheet', { least: 3 }, [3, 3, 4]],
    ['only a most, below the plan of the sheet', { most: 1 }, [1, 1, 1]],
    ['only a most, above it', { most: 3 }, [2, 2, 3]],
  ])('%s', (_, coats, want) => {
    const step = coats === undefined ? {} : { coats }
    const { coats: set } = panelOf(vanWith([{ ...BASE_CLEAR[0], ...step }])).route[0] ?? {}
    expect([set?.least, set?.planned, set?.most]).toEqual(want)
  })

  test('a later edit of the sheet leaves the route that was set', () => {
    const shop = vanWith(BASE_CLEAR)
    shop.do('SaveSheet', { sheet: { ...BASE, coats: { least: 1, planned: 1, most: 1 } } })
    expect(whereIs(based(1, shop))).toBe('base.between')
  })

  test('a coat keeps what kind it was and how the gun was set', () => {
    const gunSet = { inletKpa: 150, turns: 2.5, distanceCm: 22 }
    const [draft] = vanWith(BASE_CLEAR).do('StartCoat', {
      panels: [DOOR],
      cup: BASE_CUP,
      kind: 'drop',
      gun: 'gun-1',
      gunSet,
    })
    expect(draft?.data).toMatchObject({ kind: 'drop', gunSet })
  })
})

describe('which step a coat belongs to', () => {
  test('the next one, unless the cup fits only the step just finished: then it is one more', () => {
    const shop = based(2)
    coat(shop, BASE_CUP, 30, 32)
    coat(shop, CLEAR_CUP, 50, 52)
    expect(panelOf(shop).coats.map((c) => c.step)).toEqual([0, 0, 0, 1])
  })

  test('a step that is named counts, where two take the same product', () => {
    const route = [{ ...BASE_CLEAR[0], face: 'edges', coats: 1 }, ...BASE_CLEAR]
    const shop = coat(vanWith(route), BASE_CUP, 1, 3)
    const named = shop.fork()
    shop.at(12).do('AbradePanel', { panel: DOOR, overspray: true })
    coat(shop, BASE_CUP, 20, 22)
    coat(named, BASE_CUP, 20, 22, { step: 0 })
    expect(panelOf(shop).coats.map((c) => c.step)).toEqual([0, 1])
    expect(panelOf(named).coats.map((c) => c.step)).toEqual([0, 0])
  })

  test.each([
    ['an earlier one that is long done', 0],
    ['a later one that is not due', 2],
    ['one by hand', 3],
    ['one that is not there', 9],
  ])('a named step must be the next or the last sprayed: not %s', (_, step) => {
    const route = [{ ...BASE_CLEAR[0], coats: 1 }, ...BASE_CLEAR, { stage: 'polish' }]
    const shop = coat(coat(vanWith(route), BASE_CUP, 1, 3), BASE_CUP, 20, 22)
    const cup = step === 2 ? CLEAR_CUP : BASE_CUP
    expect(said(startCoat(cup, { step })(shop.at(60 - 1)))).toBe('wrongStep')
  })

  test('late, a coat may name any sprayed step', () => {
    const shop = vanWith(BASE_CLEAR)
    const data = { panels: [DOOR], cup: CLEAR_CUP, step: 1 }
    const [draft] = queued(shop.at(30), 2, 'StartCoat', data)
    expect(outsideOf(draft)).toEqual(['wrongStep'])
    expect([panelOf(shop).open?.step, panelOf(shop).status]).toEqual([1, ['skipped', 'open']])
  })

  test('a step that names no sheet takes any product of its stage, and no other stage', () => {
    const shop = vanWith([{ stage: 'clear' }])
    expect(said(startCoat(CLEAR_CUP)(shop.fork()))).toBe('done')
    expect(said(startCoat(BASE_CUP)(shop))).toBe('wrongProduct')
    expect(panelOf(shop).route[0]?.coats).toEqual({ least: 1, planned: 1, most: 3 })
  })

  test.each([
    ['the same colour', 'white', 'white', 'done'],
    ['another colour', 'white', 'grey', 'wrongColour'],
    ['a cup of which nobody said a colour', 'white', undefined, 'done'],
    ['a step of which nobody said a colour', undefined, 'grey', 'done'],
  ])('colour: %s', (_, wanted, held, want) => {
    const shop = shopWith()
    addPanel(shop, [{ ...BASE_CLEAR[0], ...(wanted ? { colour: wanted } : {}) }])
    mix(shop, BASE_CUP, BASE.sheet, held ? { colour: held } : {})
    expect(said(startCoat(BASE_CUP)(shop))).toBe(want)
  })
})

describe('a coat that goes on from another cup', () => {
  const running = (route: readonly object[] = BASE_CLEAR): Shop => {
    const shop = vanWith(route)
    shop.at(1).do('StartCoat', { panels: [DOOR], cup: BASE_CUP, gun: 'gun-1' })
    return mix(shop, FRESH, BASE.sheet)
  }
  const goOn = (shop: Shop, cup: string): string =>
    said(shop.send('ContinueCoat', { panels: [DOOR], cup }))

  test('knows both cups, and so does the gun', () => {
    const shop = running()
    expect(goOn(shop, FRESH)).toBe('done')
    shop.at(3).do('FinishCoat', { panels: [DOOR] })
    expect(panelOf(shop).coats[0]?.cups).toEqual([BASE_CUP, FRESH])
    expect(gunOf(shop, 'gun-1')?.loads.map((l) => l.cup)).toEqual([FRESH])
  })

  test('must hold the same product, also on a step that names none', () => {
    expect(goOn(running(), CLEAR_CUP)).toBe('wrongProduct')
    expect(goOn(running([{ stage: 'base' }]), CLEAR_CUP)).toBe('wrongProduct')
  })

  test('must hold the same color', () => {
    const shop = running([{ ...BASE_CLEAR[0], colour: 'white' }])
    mix(shop, 'GGGG2222', BASE.sheet, { colour: 'grey' })
    expect(goOn(shop, 'GGGG2222')).toBe('wrongColour')
    mix(shop, 'HHHH2222', BASE.sheet, { colour: 'white' })
    expect([goOn(shop, 'HHHH2222'), goOn(shop, FRESH)]).toEqual(['done', 'done'])
  })

  test('must be known, and must not be empty', () => {
    const shop = running()
    expect(goOn(shop, 'ZZZZ2222')).toBe('cupUnknown')
    shop.do('EmptyCup', { cup: FRESH, how: 'used' })
    expect(goOn(shop, FRESH)).toBe('cupEmptied')
  })

  test('must run', () => {
    expect(goOn(vanWith(BASE_CLEAR), BASE_CUP)).toBe('wrongStep')
  })

  test('one coat is one coat, from however many cups', () => {
    const shop = running()
    goOn(shop, FRESH)
    shop.at(3).do('FinishCoat', { panels: [DOOR] })
    expect(panelOf(shop).coats).toHaveLength(1)
  })
})
