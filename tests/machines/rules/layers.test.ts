import { describe, expect, test } from 'vitest'
import {
  around,
  BASE_CUP,
  bells,
  CLEAR_CUP,
  coat,
  DOOR,
  JOB,
  mix,
  queued,
  refusalOf,
  SEALER_CUP,
  said,
  shopWith,
  startCoat,
} from '../../support/given.ts'
import { BASE, CLEAR, SEALER } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

const at20 = (minutes: number) => [{ atC: 20, minutes }]
const OTHER_BASE = 'GGGG2222'
/** Windows that shut one after another: sealer after 60, base after 120 minutes. */
const SHORT_SEALER = { ...SEALER, recoatWithin: at20(60) }
const SHORT_BASE = { ...BASE, recoatWithin: at20(120), coats: { least: 1, planned: 1, most: 3 } }

type Step = { stage: string; sheet: string; face?: string; colour?: string; coats?: object }
const step = (stage: string, sheet: { sheet: string }, more: object = {}): Step => ({
  stage,
  sheet: sheet.sheet,
  ...more,
})

function van(
  route: readonly Step[],
  sheets: readonly object[] = [SHORT_SEALER, SHORT_BASE, CLEAR],
) {
  const shop = shopWith(sheets)
  const colours = [
    { key: 'body', code: 'S-1', kind: 'metallic' },
    { key: 'stripe', code: 'B-2', kind: 'solid' },
  ]
  shop.do('OpenJob', { job: JOB, title: 'Delivery van', colours })
  shop.do('AddPanel', { job: JOB, panel: DOOR, name: 'Rear door', operation: 'repair', route })
  for (const [cup, sheet, colour] of [
    [SEALER_CUP, SEALER, undefined],
    [BASE_CUP, BASE, 'body'],
    [OTHER_BASE, BASE, 'stripe'],
  ] as const) {
    mix(shop, cup, sheet.sheet, { job: JOB, ...(colour ? { colour } : {}) })
  }
  return shop
}
/** Clear as it is wanted: mixed when it is. */
const clearAt = (shop: Shop, min: number) => {
  const copy = shop.fork().at(min)
  mix(copy, CLEAR_CUP, CLEAR.sheet)
  return startCoat(CLEAR_CUP)(copy)
}
const codeAt = (shop: Shop, min: number) => said(clearAt(shop, min))

describe('the window of a layer', () => {
  const onSealer = (face: string) => {
    const shop = van([
      step('sealer', SEALER),
      step('base', BASE, { face, colour: 'body' }),
      step('clear', CLEAR),
    ])
    coat(coat(shop, SEALER_CUP, 1, 3), BASE_CUP, 20, 23)
    if (face === 'edges') shop.at(40).do('AbradePanel', { panel: DOOR, overspray: true })
    return shop
  }

  test('ends, satisfied, when the next product goes over the whole of it', () => {
    // The sealer's window shut at 63; the base covers it all and has its own, until 143.
    expect([codeAt(onSealer('whole'), 64), codeAt(onSealer('whole'), 142)]).toEqual([
      'done',
      'done',
    ])
    expect(codeAt(onSealer('whole'), 143)).toBe('windowShut')
  })

  test.each(['edges', 'spot'])('goes on for what %s leave uncovered', (face) => {
    expect([codeAt(onSealer(face), 62), codeAt(onSealer(face), 63)]).toEqual(['done', 'windowShut'])
    expect(bells(onSealer(face), 'windowShut')).toEqual([['windowShut', 63]])
  })

  test('is opened again by abrading before the spot, and by abrading after it', () => {
    const route = [
      step('sealer', SEALER),
      step('base', BASE, { face: 'spot', colour: 'body' }),
      step('clear', CLEAR),
    ]
    const before = coat(van(route), SEALER_CUP, 1, 3).at(70)
    before.do('AbradePanel', { panel: DOOR, grit: 800 })
    expect(codeAt(coat(before, BASE_CUP, 71, 73), 90)).toBe('done')
    const after = onSealer('spot').at(70)
    after.do('AbradePanel', { panel: DOOR, grit: 800, override: { reason: 'wanted' } })
    const { code, also } = refusalOf(clearAt(after, 90))
    // A metallic base that was abraded through is another matter; the window is open.
    expect([code, ...also]).not.toContain('windowShut')
  })

  test('an edge over an edge is judged by that edge', () => {
    const route = [
      step('sealer', SEALER),
      step('base', BASE, { face: 'edges', colour: 'stripe' }),
      step('base', BASE, { face: 'edges', colour: 'body' }),
      step('clear', CLEAR),
    ]
    const shop = coat(coat(van(route), SEALER_CUP, 1, 3), OTHER_BASE, 20, 23)
    expect(said(startCoat(BASE_CUP)(shop.at(64)))).toBe('done')
  })

  test('each color of a two-tone has its own: the first one, shut for hours, is not cleared over', () => {
    const route = [
      step('base', BASE, { colour: 'body' }),
      step('base', BASE, { colour: 'stripe' }),
      step('clear', CLEAR),
    ]
    const shop = coat(coat(van(route), BASE_CUP, 1, 3), OTHER_BASE, 100, 102)
    expect([codeAt(shop, 122), codeAt(shop, 123)]).toEqual(['done', 'windowShut'])
  })

  test('a wet-on-wet sealer flashes before the base that goes into it', () => {
    const shop = coat(van([step('sealer', SEALER), step('base', BASE)]), SEALER_CUP, 1, 3)
    expect(around(shop, 18, startCoat(BASE_CUP))).toEqual(['flashNotOver', 'done'])
  })
})

describe('clear within so long of the first coat', () => {
  const sheets = [{ ...SHORT_BASE, clearWithinFromFirstCoat: at20(60) }, CLEAR, SHORT_SEALER]
  const route = [
    step('base', BASE, { colour: 'body', coats: { least: 2, planned: 2, most: 4 } }),
    step('clear', CLEAR),
  ]
  test('reaches through the coats over it', () => {
    const shop = coat(coat(van(route, sheets), BASE_CUP, 1, 3), BASE_CUP, 40, 42)
    expect([codeAt(shop, 62), codeAt(shop, 63)]).toEqual(['done', 'windowShut'])
  })
})

describe('a base that is judged by its look', () => {
  const looks = { ...SHORT_BASE, flashBy: 'appearance', flashBeforeNext: at20(15), floorMin: 6 }
  const route = [
    step('base', BASE, { colour: 'body', coats: { planned: 1 } }),
    step('clear', CLEAR),
  ]
  const seen = (more: object = {}) => {
    const shop = coat(van(route, [{ ...looks, ...more }, CLEAR, SHORT_SEALER]), BASE_CUP, 1, 3)
    shop.at(6).do('InspectCoat', { panel: DOOR, result: 'matt' })
    return shop
  }
  test('matte opens its own next coat at the floor, and clear at the time of the sheet', () => {
    expect([codeAt(seen(), 17.9), codeAt(seen(), 18)]).toEqual(['flashNotOver', 'done'])
    expect(around(seen(), 9, startCoat(BASE_CUP, { step: 0 }))).toEqual(['flashNotOver', 'done'])
  })
  test('"matte only" opens both at its floor, which is two minutes where none is typed', () => {
    expect([codeAt(seen({ matteOnly: true }), 8.9), codeAt(seen({ matteOnly: true }), 9)]).toEqual([
      'flashNotOver',
      'done',
    ])
    const shop = coat(
      van(route, [{ ...looks, floorMin: 0, matteOnly: true }, CLEAR, SHORT_SEALER]),
      BASE_CUP,
      1,
      3,
    )
    shop.at(4).do('InspectCoat', { panel: DOOR, result: 'matt' })
    expect([codeAt(shop, 4.9), codeAt(shop, 5)]).toEqual(['flashNotOver', 'done'])
  })
})

describe('abrading as the product to come asks for', () => {
  const strict = {
    ...CLEAR,
    prepFor: [{ over: 'sealer', gritMin: 600, gritMax: 1000, pads: ['gray'] }],
  }
  const route = [step('sealer', SEALER), step('clear', CLEAR)]
  const abraded = (work: object) => {
    const shop = coat(van(route, [SHORT_SEALER, SHORT_BASE, strict]), SEALER_CUP, 1, 3)
    shop.at(70).do('AbradePanel', { panel: DOOR, ...work })
    return codeAt(shop, 75)
  }
  test.each([
    [{ grit: 599 }, 'windowShut'],
    [{ grit: 600 }, 'done'],
    [{ grit: 1000 }, 'done'],
    [{ grit: 1001 }, 'windowShut'],
    [{ pad: 'gray' }, 'done'],
    [{ pad: 'red' }, 'windowShut'],
  ])('%o: %s', (work, code) => {
    expect(abraded(work)).toBe(code)
  })

  test.each([
    [{ grit: 599 }, 'windowShut'],
    [{ grit: 600 }, 'done'],
    [{ pad: 'gray' }, 'done'],
    [{ pad: 'red' }, 'windowShut'],
  ])('in a step of the route as well: %o, %s', (work, code) => {
    const [sealer, clear] = route as [Step, Step]
    const sanded = [sealer, { stage: 'sand' } as Step, clear]
    const shop = coat(van(sanded, [SHORT_SEALER, SHORT_BASE, strict]), SEALER_CUP, 1, 3)
    shop.at(70).do('DoPrepStep', { panel: DOOR, step: 1, ...work })
    expect(codeAt(shop, 75)).toBe(code)
  })

  describe('where its sheet says nothing', () => {
    const silent = () => coat(van(route, [SHORT_SEALER, SHORT_BASE, CLEAR]), SEALER_CUP, 1, 3)
    const prep = { over: 'sealer', gritMin: 600 }
    const abradedAt = (shop: Shop, grit: number) => {
      shop.at(70).do('AbradePanel', { panel: DOOR, grit })
      return codeAt(shop, 75)
    }

    test('what the shop said once holds, each over its own layer', () => {
      expect(abradedAt(silent(), 400)).toBe('done')
      const told = silent()
      told.do('SetShopFigure', { sheet: CLEAR.sheet, prep })
      expect([abradedAt(told.fork(), 400), abradedAt(told.fork(), 800)]).toEqual([
        'windowShut',
        'done',
      ])
      const other = silent()
      other.do('SetShopFigure', { sheet: CLEAR.sheet, prep: { ...prep, over: 'base' } })
      expect(abradedAt(other, 400)).toBe('done')
    })

    test('the sheet goes before it, and a drop coat’s figure beside it', () => {
      const shop = coat(van(route, [SHORT_SEALER, SHORT_BASE, strict]), SEALER_CUP, 1, 3)
      shop.do('SetShopFigure', { sheet: CLEAR.sheet, prep: { ...prep, gritMin: 200 } })
      shop.do('SetShopFigure', { sheet: CLEAR.sheet, dropOver: 'wet' })
      expect(abradedAt(shop, 400)).toBe('windowShut')
    })

    test('one thing is said at a time', () => {
      for (const more of [{}, { prep, dropOver: 'wet' }]) {
        const send = () => silent().send('SetShopFigure', { sheet: CLEAR.sheet, ...more })
        expect(send).toThrow("won't work. Use one of dropOver, prep, ready, keep.")
      }
    })
  })

  test('what was said late of a range that is not met is recorded, and reopens nothing', () => {
    const shop = coat(van(route, [SHORT_SEALER, SHORT_BASE, strict]), SEALER_CUP, 1, 3).at(90)
    queued(shop, 70, 'AbradePanel', { panel: DOOR, grit: 400 })
    expect(codeAt(shop, 91)).toBe('windowShut')
  })

  test('polishing opens nothing', () => {
    const shop = van(
      [step('sealer', SEALER), { stage: 'polish' } as Step, step('clear', CLEAR)],
      [SHORT_SEALER, SHORT_BASE, CLEAR],
    )
    coat(shop, SEALER_CUP, 1, 3)
    shop.at(70).do('DoPrepStep', { panel: DOOR, step: 1, grit: 3000 })
    expect(codeAt(shop, 75)).toBe('windowShut')
  })
})
