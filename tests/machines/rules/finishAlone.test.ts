import { describe, expect, test } from 'vitest'
import {
  addPanel,
  air,
  around,
  CLEAR_CUP,
  CLEAR_ONLY,
  coat,
  DOOR,
  minuteOf,
  mix,
  outsideOf,
  panelOf,
  queued,
  said,
  shopWith,
  startCoat,
  vanWith,
  WING,
} from '../../support/given.ts'
import { CLEAR } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

const FRESH = 'FFFF2222'
const finish = (shop: Shop, min: number, more: object = {}) =>
  shop.at(min).do('FinishCoat', { panels: [DOOR], cup: CLEAR_CUP, ...more })

/** A door of 2 m2, which takes four minutes to spray. */
function door(areaM2 = 2): Shop {
  return mix(addPanel(shopWith(), CLEAR_ONLY, { areaM2 }), CLEAR_CUP, CLEAR.sheet)
}
const coats = (shop: Shop) =>
  panelOf(shop).coats.map((c) => [minuteOf(c.startedAt), minuteOf(c.finishedAt), c.isEstimated])

describe('a finish that was never started', () => {
  test.each([0, 1, 2])(
    'of a pass, %d min after its panels were added, is a coat on each of them',
    (min) => {
      // The wing takes a minute, as it has no area.
      const shop = mix(
        addPanel(addPanel(shopWith(), CLEAR_ONLY), CLEAR_ONLY, { panel: WING, name: 'Wing' }),
        CLEAR_CUP,
        CLEAR.sheet,
      )
      const drafts = finish(shop, min, { panels: [DOOR, WING] })
      // Never before its panel was there: a coat that was pressed is not lost to the time that it is spread to.
      expect(drafts.map(({ at }) => minuteOf(at))).toEqual([Math.max(0, min - 1), min])
      for (const panel of [DOOR, WING]) expect(panelOf(shop, panel).coats).toHaveLength(1)
    },
  )

  test('is one fact, with a start estimated from the spraying time of the panel', () => {
    const shop = door()
    const [draft, ...more] = finish(shop, 20)
    expect(draft?.type).toBe('CoatFinished')
    expect(minuteOf(Number(draft?.data.estimatedStartAt))).toBe(16)
    expect([more, coats(shop)]).toEqual([[], [[16, 20, true]]])
  })

  test.each([
    ['a panel without an area', undefined, 1],
    ['a small panel', 0.1, 1],
    ['half a square metre', 0.5, 1],
    ['a large panel', 3, 6],
  ])('%s takes as long as its area asks, and a minute at least', (_, areaM2, minutes) => {
    const shop = mix(
      addPanel(shopWith(), CLEAR_ONLY, areaM2 === undefined ? {} : { areaM2 }),
      CLEAR_CUP,
      CLEAR.sheet,
    )
    finish(shop, 20)
    expect(coats(shop)).toEqual([[20 - minutes, 20, true]])
  })

  test("the shop's own spraying time counts", () => {
    const shop = door()
    shop.do('ChangeSettings', { limits: { sprayMinPerM2: 1 } })
    finish(shop, 20)
    expect(coats(shop)).toEqual([[18, 20, true]])
  })

  test('is not estimated to begin before the gate, and then is within the rules', () => {
    const shop = coat(door(), CLEAR_CUP, 1, 5)
    const [draft] = finish(shop, 17)
    expect(minuteOf(Number(draft?.data.estimatedStartAt))).toBe(15)
    expect(draft?.outside).toBeUndefined()
  })

  test('where the gate lies at the finish or after it, the estimate stays and flash is outside', () => {
    const shop = coat(door(), CLEAR_CUP, 1, 5)
    for (const min of [15, 14]) {
      const [draft] = finish(shop.fork(), min)
      expect(minuteOf(Number(draft?.data.estimatedStartAt))).toBe(min - 4)
      expect(draft?.outside).toEqual([
        { code: 'flashNotOver', limit: minute(15), value: minute(min - 4) },
      ])
    }
  })

  test('with a start that is given, that one counts and is what is judged', () => {
    const shop = coat(door(), CLEAR_CUP, 1, 5)
    const [draft] = finish(shop, 20, { startedAt: minute(12) })
    expect(draft?.data.startedAt).toBe(minute(12))
    expect(outsideOf(draft)).toEqual(['flashNotOver'])
    expect(coats(shop)[1]).toEqual([12, 20, false])
  })

  test('cannot have started after it finished', () => {
    const shop = door().at(20)
    const answer = shop.send('FinishCoat', { panels: [DOOR], startedAt: minute(21) })
    expect(said(answer)).toBe('data.startedAt')
  })

  test('that was typed before its cup existed has the cup outside, as a late start would', () => {
    const shop = mix(addPanel(shopWith(), CLEAR_ONLY).at(15), CLEAR_CUP, CLEAR.sheet)
    const [draft] = finish(shop, 20, { startedAt: minute(12) })
    expect(draft?.outside).toEqual([{ code: 'cupUnknown', limit: null, value: CLEAR_CUP }])
    // An estimate is nobody's word: that it lies before the mixing says nothing.
    const [other] = finish(mix(addPanel(shopWith(), CLEAR_ONLY).at(19.9), FRESH, CLEAR.sheet), 20, {
      cup: FRESH,
    })
    expect(outsideOf(other)).toEqual([])
  })

  test.each([
    ['eleven minutes', 11],
    ['300 days', 300 * 1440],
  ])('typed back %s it asks for its reason, as any time does', (_, back) => {
    const shop = door().at(30)
    const data = { panels: [DOOR], cup: CLEAR_CUP, startedAt: shop.now - minute(back) + minute(0) }
    const answer = shop.send('FinishCoat', data)
    expect(said(answer)).toBe('reason')
    expect('error' in answer && answer.error.code).toBe('lateReason')
    expect(said(shop.send('FinishCoat', data, { reason: 'Forgotten' }))).toBe('done')
  })

  test('is never refused for what it broke, also when it is reported at once', () => {
    const shop = air(door(), 1, 40)
    expect(outsideOf(finish(shop, 10)[0])).toEqual(['airOutside'])
  })

  test('keeps an override that covers what it broke', () => {
    const shop = coat(door(), CLEAR_CUP, 1, 5)
    const [draft] = finish(shop, 14, { override: { reason: 'Trial' } })
    expect([draft?.override?.codes, draft?.outside]).toEqual([['flashNotOver'], undefined])
  })

  test('without a cup it is the product that the route names', () => {
    const shop = door()
    const [draft] = shop.at(20).do('FinishCoat', { panels: [DOOR] })
    expect(draft?.sheet).toBe(CLEAR.sheet)
    expect(around(shop, 30, startCoat(CLEAR_CUP))).toEqual(['flashNotOver', 'done'])
  })
})

describe('a coat from a cup that the log does not know', () => {
  const ending = (route: readonly object[], min = 5): Shop => {
    const shop = addPanel(shopWith(), route)
    queued(shop.at(30), 1, 'StartCoat', { panels: [DOOR], cup: FRESH })
    queued(shop, min, 'FinishCoat', { panels: [DOOR] })
    return shop
  }
  const products = (shop: Shop) =>
    shop.entries.filter((e) => e.type.startsWith('Coat')).map((e) => [e.type, e.data.sheet])

  test('starts without a product, and flashes by the one that its step names', () => {
    const shop = ending(CLEAR_ONLY)
    expect(products(shop)).toEqual([
      ['CoatStarted', null],
      ['CoatFinished', CLEAR.sheet],
    ])
    mix(shop, CLEAR_CUP, CLEAR.sheet)
    const late = shop.at(14).send('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    expect(said(late)).toBe('flashNotOver')
  })

  test('has none at its finish either where its step names only a stage', () => {
    expect(products(ending([{ stage: 'clear' }]))[1]).toEqual(['CoatFinished', null])
  })
})

describe('a real start that arrives later', () => {
  test('replaces the estimate: it is one coat, from then on', () => {
    const shop = door()
    finish(shop, 20)
    queued(shop.at(60), 12, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    expect(coats(shop)).toEqual([[12, 20, false]])
    expect(panelOf(shop).open).toBeNull()
  })

  test('counts just as well if it lies after the estimate', () => {
    const shop = door()
    finish(shop, 20)
    queued(shop.at(60), 18, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    expect(coats(shop)).toEqual([[18, 20, false]])
  })

  test('after the finish it is another coat', () => {
    const shop = door()
    finish(shop, 20)
    queued(shop.at(60), 31, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    expect([coats(shop), minuteOf(panelOf(shop).open?.startedAt ?? 0)]).toEqual([
      [[16, 20, true]],
      31,
    ])
  })
})

describe('a cup that only the finish names', () => {
  const running = (): Shop => {
    const shop = vanWith(CLEAR_ONLY)
    shop.at(1).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    return shop
  }
  test("joins the coat's cups when it holds the same", () => {
    const shop = mix(running(), FRESH, CLEAR.sheet)
    const [draft] = finish(shop, 4, { cup: FRESH })
    expect(draft?.outside).toBeUndefined()
    expect(panelOf(shop).coats[0]?.cups).toEqual([CLEAR_CUP, FRESH])
  })

  test('is judged: unknown, emptied, another product, over', () => {
    expect(outsideOf(finish(running(), 4, { cup: FRESH })[0])).toEqual(['cupUnknown'])
    const other = mix(running(), FRESH, 'base-solvent')
    other.do('EmptyCup', { cup: FRESH, how: 'used' })
    expect(outsideOf(finish(other, 4, { cup: FRESH })[0])).toEqual(['cupEmptied', 'wrongProduct'])
    const old = mix(vanWith(CLEAR_ONLY), FRESH, CLEAR.sheet)
    mix(old.at(30), 'GGGG2222', CLEAR.sheet)
    old.at(58).do('StartCoat', { panels: [DOOR], cup: 'GGGG2222' })
    expect(outsideOf(finish(old, 60, { cup: FRESH })[0])).toEqual(['potLifeOver'])
  })

  test('named again is judged no second time; what was sprayed after its end is outside', () => {
    const sprayed = (fromMin: number, toMin: number) => {
      const shop = vanWith(CLEAR_ONLY)
      shop.at(fromMin).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
      return outsideOf(finish(shop, toMin)[0])
    }
    expect([sprayed(57, 60), sprayed(59, 63)]).toEqual([[], ['potLifeOver']])
  })
})

describe('the same finish said twice', () => {
  const said = (shop: Shop, data: object = {}) => shop.do('FinishCoat', { panels: [DOOR], ...data })

  test('is one finish: there was no time to spray another coat since', () => {
    const shop = coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 5)
    const before = shop.state
    expect(said(shop.at(5.5))).toEqual([])
    expect(shop.state).toBe(before)
  })

  test('is another coat once there was the time, or when a start or another cup is named', () => {
    const finished = () => coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 5)
    expect(said(finished().at(30))).toHaveLength(1)
    const shop = finished().at(5.5)
    expect(said(shop, { startedAt: shop.now - 20_000 })).toHaveLength(1)
  })
})
