import { describe, expect, test } from 'vitest'
import {
  addPanel,
  air,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_CURE,
  CLEAR_ONLY,
  coat,
  DOOR,
  JOB,
  minuteOf,
  mix,
  outsideOf,
  refusalOf,
  said,
  startCoat,
  vanWith,
  WING,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import { type Answer, minute, type Shop } from '../../support/shop.ts'

const FRESH = 'FFFF2222'

/** At minute 12 flash runs until 15, the air is too cold, and the mix in a fresh cup is still in its induction time. */
function threeReasons(airC = 14): Shop {
  const sheet = { ...CLEAR, induction: [{ atC: 20, minutes: 20 }] }
  const shop = vanWith(CLEAR_ONLY, [sheet])
  coat(shop, CLEAR_CUP, 1, 5, { override: { reason: 'Stood long enough' } })
  mix(shop.at(10), FRESH, CLEAR.sheet)
  return air(shop, 11, airC).at(12)
}
/** One of two coats of clear before a cure, finished at minute 5. */
const curable = (): Shop => coat(vanWith(CLEAR_CURE), CLEAR_CUP, 1, 5)
const reason = 'Trial piece'
const start = (override?: object) => startCoat(FRESH, override ? { override } : {})
const ALL = ['flashNotOver', 'inductionNotOver', 'airOutside']

describe('going on against a refusal', () => {
  test('without an override all three reasons are given', () => {
    const { code, also, overridable } = refusalOf(start()(threeReasons()))
    expect([code, ...also]).toEqual(ALL)
    expect(overridable).toBe(true)
  })

  test('an override without codes covers whatever can be overridden', () => {
    const [draft] = threeReasons().do('StartCoat', {
      panels: [DOOR],
      cup: FRESH,
      override: { reason },
    })
    expect(draft?.override).toMatchObject({ reason, codes: ALL })
    expect(draft?.outside).toBeUndefined()
  })

  test('the entry keeps each limit that was gone against, with its value', () => {
    const [draft] = threeReasons().do('StartCoat', {
      panels: [DOOR],
      cup: FRESH,
      override: { reason },
    })
    expect(draft?.override?.broken).toEqual([
      { code: 'flashNotOver', limit: expect.any(Number), value: minute(12) },
      { code: 'inductionNotOver', limit: expect.any(Number), value: minute(12) },
      {
        code: 'airOutside',
        limit: { minC: 15, maxC: 35, maxRh: 0.85 },
        value: { airC: 14, rh: 0.5 },
      },
    ])
  })

  test('an override that names codes covers these, and the rest is refused', () => {
    const override = { reason, codes: ['flashNotOver', 'airOutside'] }
    const { code, also } = refusalOf(start(override)(threeReasons()))
    expect([code, ...also]).toEqual(['inductionNotOver'])
  })

  test('a code that is named and not broken is not in the entry', () => {
    const override = { reason, codes: [...ALL, 'gunHolds'] }
    const answer = start(override)(threeReasons())
    expect('drafts' in answer && answer.drafts[0]?.override?.codes).toEqual(ALL)
  })

  test('where no rule is broken no override is recorded', () => {
    const [draft] = vanWith(CLEAR_ONLY).do('StartCoat', {
      panels: [DOOR],
      cup: CLEAR_CUP,
      override: { reason },
    })
    expect(draft?.override).toBeUndefined()
  })

  test('an override without a reason is not read', () => {
    const shop = threeReasons()
    expect(() => shop.parse('StartCoat', { panels: [DOOR], cup: FRESH, override: {} })).toThrow(
      'data.override.reason is missing. Use text of 1 to 200 characters',
    )
  })

  test.each([
    [
      'another product',
      (s: Shop) => startCoat(BASE_CUP, { override: { reason } })(s),
      'wrongProduct',
    ],
    [
      'an emptied cup',
      (s: Shop) => {
        s.do('EmptyCup', { cup: CLEAR_CUP, how: 'used' })
        return startCoat(CLEAR_CUP, { override: { reason, codes: ['cupEmptied'] } })(s)
      },
      'cupEmptied',
    ],
    ['an unknown cup', (s: Shop) => startCoat(FRESH, { override: { reason } })(s), 'cupUnknown'],
  ])('%s makes no sense, with or without a reason', (_, ask, code) => {
    const refusal = refusalOf(ask(vanWith(CLEAR_ONLY)))
    expect([refusal.code, refusal.overridable]).toEqual([code, false])
  })

  test('in a pass only the panel that it is about carries it', () => {
    const shop = coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 5)
    addPanel(shop, CLEAR_ONLY, { panel: WING, name: 'Side' })
    const drafts = shop.do('StartCoat', {
      panels: [DOOR, WING],
      cup: CLEAR_CUP,
      override: { reason },
    })
    expect(drafts.map((d) => [d.panel, d.override?.codes])).toEqual([
      [DOOR, ['flashNotOver']],
      [WING, undefined],
    ])
  })

  test('a late fact keeps apart what was covered and what was not', () => {
    const shop = threeReasons().at(40)
    const [draft] = shop.do(
      'StartCoat',
      { panels: [DOOR], cup: FRESH, override: { reason, codes: ['flashNotOver'] } },
      { at: minute(12), enteredAt: minute(12) },
    )
    expect(draft?.override?.codes).toEqual(['flashNotOver'])
    expect(outsideOf(draft)).toEqual(['inductionNotOver', 'airOutside'])
  })
})

describe('what else may be overridden', () => {
  const override = { reason }
  const oneCoat = () => curable().at(6)
  test.each<[string, string, (s: Shop, more: object) => Answer]>([
    ['too few coats', 'tooFewCoats', (s, o) => s.send('ReachCover', { panel: DOOR, ...o })],
    [
      'missing coats before a cure',
      'coatsMissing',
      (s, o) => s.send('StartCure', { panels: [DOOR], mode: 'air', ...o }),
    ],
    ['an unfinished panel', 'coatsMissing', (s, o) => s.send('PassPanel', { panel: DOOR, ...o })],
    ['a job with open panels', 'panelsOpen', (s, o) => s.send('CloseJob', { job: JOB, ...o })],
    [
      'pot life over, decanted',
      'potLifeOver',
      (s, o) => s.at(61).send('PourCup', { cup: FRESH, from: [{ cup: CLEAR_CUP }], ...o }),
    ],
    [
      'pot life over, into a gun',
      'potLifeOver',
      (s, o) => s.at(61).send('LoadGun', { gun: 'gun-1', cup: CLEAR_CUP, ...o }),
    ],
  ])('%s is refused, and kept with its reason', (_, code, ask) => {
    expect(said(ask(oneCoat(), {}))).toBe(code)
    const answer = ask(oneCoat(), { override })
    expect('drafts' in answer && answer.drafts[0]?.override?.codes).toContain(code)
  })

  test('going on with a coat from a cup whose pot life is over', () => {
    const shop = vanWith(CLEAR_ONLY)
    mix(shop, FRESH, CLEAR.sheet)
    shop.at(59).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    const ask = { panels: [DOOR], cup: FRESH }
    expect(shop.at(60).refused('ContinueCoat', ask)).toBe('potLifeOver')
    const [draft] = shop.do('ContinueCoat', { ...ask, override })
    expect(draft?.override?.codes).toEqual(['potLifeOver'])
  })
})

describe('when a refusal clears', () => {
  const at = (answer: Answer): number | undefined => {
    const { clearsAt } = refusalOf(answer)
    return clearsAt === undefined ? undefined : minuteOf(clearsAt)
  }
  test('flash and induction clear at their end', () => {
    const mild = threeReasons(20)
    expect(at(start()(mild))).toBe(15)
    expect(at(start({ reason, codes: ['flashNotOver'] })(mild))).toBe(30)
  })

  test('an air cure clears at its end', () => {
    const shop = coat(curable(), CLEAR_CUP, 15, 16)
    shop.at(20).do('StartCure', { panels: [DOOR], mode: 'air' })
    expect(at(shop.send('PassPanel', { panel: DOOR }))).toBe(20 + 720)
  })

  test('pot life, an emptied cup and cold air do not clear by themselves', () => {
    expect(at(startCoat(CLEAR_CUP)(vanWith(CLEAR_ONLY).at(60)))).toBeUndefined()
    expect(at(startCoat(CLEAR_CUP)(air(vanWith(CLEAR_ONLY), 1, 10)))).toBeUndefined()
  })

  test('a pass of which one panel never clears does not clear', () => {
    const route = [{ stage: 'base', sheet: BASE.sheet }]
    const shop = vanWith(route, [{ ...BASE, medium: 'waterborne', limits: {} }])
    addPanel(shop, route, { panel: WING, name: 'Side', zone: 'damp' })
    coat(shop, BASE_CUP, 1, 3, { panels: [DOOR, WING] })
    air(shop, 3, 20, 0.97, { zone: 'damp' })
    const both = startCoat(BASE_CUP, { panels: [DOOR, WING] })
    expect([refusalOf(both(shop)).panels, at(both(shop))]).toEqual([[DOOR, WING], undefined])
  })

  test('a pass clears when its last panel does', () => {
    const shop = addPanel(vanWith(CLEAR_ONLY), CLEAR_ONLY, { panel: WING, name: 'Side' })
    coat(shop, CLEAR_CUP, 1, 5)
    coat(shop, CLEAR_CUP, 6, 8, { panels: [WING] })
    expect(at(startCoat(CLEAR_CUP, { panels: [DOOR, WING] })(shop.at(9)))).toBe(18)
  })
})
