import { describe, expect, test } from 'vitest'
import {
  addPanel,
  air,
  BASE_CLEAR,
  bells,
  CLEAR_CUP,
  CLEAR_CURE,
  CLEAR_ONLY,
  coat,
  cupOf,
  DOOR,
  JOB,
  minuteOf,
  mix,
  outsideOf,
  panelOf,
  queued,
  SEALER_CUP,
  said,
  stateOf,
  vanWith,
  WING,
  whereIs,
} from '../../support/given.ts'
import { BASE, CLEAR, SEALER } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

const FRESH = 'FFFF2222'
const cleared = (): Shop => coat(vanWith(CLEAR_ONLY), CLEAR_CUP, 1, 5)
const SEALED_CLEAR = [{ stage: 'sealer', sheet: SEALER.sheet }, ...BASE_CLEAR]

/** A past, the minute of the start, and what is queued then: it reaches the server an hour later. */
type Late = readonly [code: string, past: () => Shop, min: number, more: object]
const OUTSIDE: readonly Late[] = [
  [
    'coatRunning',
    () => {
      const shop = vanWith(CLEAR_ONLY)
      shop.at(1).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
      return shop
    },
    2,
    {},
  ],
  ['wrongStep', () => vanWith([{ stage: 'prep' }, ...CLEAR_ONLY]), 1, {}],
  ['windowShut', () => mix(cleared().at(450), FRESH, CLEAR.sheet), 485, { cup: FRESH }],
  ['flashNotOver', cleared, 14, {}],
  ['cupUnknown', () => vanWith(CLEAR_ONLY), 1, { cup: FRESH }],
  [
    'cupEmptied',
    () => {
      const shop = vanWith(CLEAR_ONLY)
      shop.do('EmptyCup', { cup: CLEAR_CUP, how: 'used' })
      return shop
    },
    1,
    {},
  ],
  ['wrongProduct', () => vanWith(BASE_CLEAR), 1, {}],
  [
    'wrongColour',
    () =>
      mix(vanWith([{ ...BASE_CLEAR[0], colour: 'white' }]), FRESH, BASE.sheet, { colour: 'grey' }),
    1,
    { cup: FRESH },
  ],
  [
    'inductionNotOver',
    () => vanWith(CLEAR_ONLY, [{ ...CLEAR, induction: [{ atC: 20, minutes: 20 }] }]),
    19,
    {},
  ],
  ['potLifeOver', () => vanWith(CLEAR_ONLY), 60, {}],
  [
    'gunHolds',
    () => {
      const shop = vanWith(CLEAR_ONLY)
      shop.do('LoadGun', { gun: 'gun-1', cup: SEALER_CUP })
      return shop
    },
    1,
    { gun: 'gun-1' },
  ],
  ['airOutside', () => air(vanWith(CLEAR_ONLY), 1, 40), 2, {}],
  ['dewPoint', () => air(vanWith(CLEAR_ONLY), 1, 20, 0.8, { surfaceC: 18 }), 2, {}],
  [
    'heatInZone',
    () => {
      const shop = addPanel(vanWith(CLEAR_ONLY), CLEAR_CURE, { panel: WING, name: 'Side' })
      coat(shop, CLEAR_CUP, 1, 2, { panels: [WING] })
      coat(shop, CLEAR_CUP, 12, 13, { panels: [WING] })
      shop.at(23).do('StartCure', { panels: [WING], mode: 'bake' })
      return shop
    },
    24,
    {},
  ],
  [
    'noPerson',
    () => {
      const shop = vanWith(CLEAR_ONLY)
      shop.do('AddPerson', { person: 'ana', name: 'A. Painter', role: 'painter' })
      return shop
    },
    1,
    {},
  ],
]

const SIDE = { job: JOB, panel: WING, name: 'Side', operation: 'repair', route: CLEAR_ONLY }

describe('a start that was queued', () => {
  test.each(OUTSIDE)('is kept with %s outside, not turned away', (code, past, min, more) => {
    const shop = past()
    const data = { panels: [DOOR], cup: CLEAR_CUP, ...more }
    expect(said(shop.fork().at(min).send('StartCoat', data))).not.toBe('done')
    const [draft] = queued(shop.at(min + 60), min, 'StartCoat', data)
    expect(outsideOf(draft)).toEqual([code])
    expect(draft?.at).toBe(minute(min))
  })

  test('is judged at its own time, not by what came after', () => {
    const shop = vanWith(CLEAR_ONLY)
    shop.at(30).do('EmptyCup', { cup: CLEAR_CUP, how: 'discarded' })
    air(shop, 31, 40)
    const [draft] = queued(shop.at(300), 29, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    expect(draft?.outside).toBeUndefined()
    expect(draft?.notJudged).toEqual(['airOutside', 'dewPoint'])
  })

  test("is somebody's who was there then, also if he has left since", () => {
    const shop = vanWith(CLEAR_ONLY)
    const data = { panels: [DOOR], cup: CLEAR_CUP }
    shop.at(10).do('AddPerson', { person: 'ana', name: 'A. Painter', role: 'painter' })
    shop.at(20).do('RetirePerson', { person: 'ana' })
    const by = (min: number, who?: string) => {
      const at = minute(min)
      const more = { at, enteredAt: at, ...(who ? { by: who } : {}) }
      return outsideOf(shop.fork().at(50).do('StartCoat', data, more)[0])
    }
    expect([by(9), by(15), by(15, 'ana'), by(25)]).toEqual([[], ['noPerson'], [], []])
  })

  test('says the limit and the value that broke it', () => {
    const [draft] = queued(cleared().at(60), 14, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    expect(draft?.outside).toEqual([{ code: 'flashNotOver', limit: minute(15), value: minute(14) }])
  })

  test.each([
    ['an unknown sheet', 'MixCup', { cup: FRESH, sheet: 'none', totalMl: 100 }, 'unknownThing'],
    ['an id that exists', 'OpenJob', { job: JOB, title: 'Again' }, 'idTaken'],
    ['a panel that exists', 'AddPanel', { ...SIDE, panel: DOOR }, 'idTaken'],
    [
      'a route with an unknown sheet',
      'SetRoute',
      { panel: DOOR, route: [{ stage: 'base', sheet: 'none' }] },
      'unknownThing',
    ],
  ])('only what makes no sense is refused: %s', (_, type, data, code) => {
    const at = minute(1)
    expect(said(cleared().at(90).send(type, data, { at, enteredAt: at }))).toBe(code)
  })

  test.each([
    ['a closed job', 'CloseJob', { job: JOB, override: { reason: 'Collected' } }],
    ['a removed panel', 'RemovePanel', { panel: DOOR }],
  ])('%s takes what happened before, and stays so; after it, nothing', (_, type, data) => {
    const shop = cleared()
    shop.at(40).do(type, data)
    const data2 = { panels: [DOOR], cup: CLEAR_CUP }
    const sent = (min: number, what: string, more: object = data2) => {
      const at = minute(min)
      return said(shop.at(90).send(what, more, { at, enteredAt: at }))
    }
    const before = [bells(shop), whereIs(shop)]
    expect(sent(20, 'StartCoat')).toBe('done')
    expect(sent(24, 'FinishCoat', { panels: [DOOR] })).toBe('done')
    expect(sent(25, 'MovePanel', { panel: DOOR, zone: 'yard' })).toBe('done')
    expect(panelOf(shop).coats.map((c) => minuteOf(c.finishedAt))).toEqual([5, 24])
    expect([stateOf(shop, 'job', JOB) === 'closed', whereIs(shop) === 'removed']).toContain(true)
    expect(bells(shop)).toEqual(before[0])
    expect(sent(40, 'StartCoat')).toBe('closed')
    expect(sent(41, 'StartCoat')).toBe('closed')
    expect(said(shop.send('StartCoat', data2))).toBe('closed')
  })

  test('a cup mixed and a panel added for a job before it was closed count as well', () => {
    const shop = cleared()
    shop.at(40).do('CloseJob', { job: JOB, override: { reason: 'Collected' } })
    queued(shop.at(90), 30, 'MixCup', { cup: FRESH, sheet: CLEAR.sheet, totalMl: 200, job: JOB })
    queued(shop, 31, 'AddPanel', SIDE)
    expect([stateOf(shop, 'cup', FRESH), whereIs(shop, WING)]).toEqual(['live', 'clear.due'])
    expect(stateOf(shop, 'job', JOB)).toBe('closed')
  })
})

describe('where a late coat goes', () => {
  test('to the next route step with its product; the steps between are skipped', () => {
    const shop = vanWith(SEALED_CLEAR)
    const data = { panels: [DOOR], cup: CLEAR_CUP }
    const [draft] = queued(shop.at(60), 2, 'StartCoat', data)
    queued(shop, 4, 'FinishCoat', { panels: [DOOR] })
    expect(outsideOf(draft)).toEqual(['wrongProduct'])
    expect(panelOf(shop).status).toEqual(['skipped', 'skipped', 'open'])
    expect(panelOf(shop).coats.map((c) => c.step)).toEqual([2])
    expect(whereIs(shop)).toBe('clear.between')
  })

  test('with no step for it, it is kept and moves nothing', () => {
    const shop = vanWith([BASE_CLEAR[0]])
    const [draft] = queued(shop.at(60), 2, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    expect(outsideOf(draft)).toEqual(['wrongProduct'])
    expect([panelOf(shop).open, panelOf(shop).coats, whereIs(shop)]).toEqual([null, [], 'base.due'])
    expect(cupOf(shop, CLEAR_CUP).usedOn).toEqual([DOOR])
  })

  test('a coat from an unknown cup counts for the step that is due', () => {
    const shop = vanWith(CLEAR_ONLY)
    const [draft] = queued(shop.at(60), 2, 'StartCoat', { panels: [DOOR], cup: FRESH })
    queued(shop, 4, 'FinishCoat', { panels: [DOOR] })
    expect(draft?.outside).toEqual([{ code: 'cupUnknown', limit: null, value: FRESH }])
    expect(panelOf(shop).coats).toHaveLength(1)
  })

  test('live, an unknown cup is refused', () => {
    expect(vanWith(CLEAR_ONLY).refused('StartCoat', { panels: [DOOR], cup: FRESH })).toBe(
      'cupUnknown',
    )
  })

  test('it is put in its place among what is known: flash counts from the coat that was last', () => {
    const shop = cleared()
    queued(shop.at(60), 15, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    queued(shop, 18, 'FinishCoat', { panels: [DOOR] })
    expect(panelOf(shop).coats.map((c) => [minuteOf(c.startedAt), minuteOf(c.finishedAt)])).toEqual(
      [
        [1, 5],
        [15, 18],
      ],
    )
  })
})

describe('a second start of an open coat', () => {
  test('counts once: live it is refused, late it is kept', () => {
    const shop = vanWith(CLEAR_ONLY)
    shop.at(1).do('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    expect(shop.refused('StartCoat', { panels: [DOOR], cup: CLEAR_CUP })).toBe('coatRunning')
    queued(shop.at(60), 2, 'StartCoat', { panels: [DOOR], cup: CLEAR_CUP })
    queued(shop, 4, 'FinishCoat', { panels: [DOOR] })
    expect(panelOf(shop).coats.map((c) => minuteOf(c.startedAt))).toEqual([1])
    expect(cupOf(shop, CLEAR_CUP).mixedAt).toBe(minute(0))
  })
})
