import { describe, expect, test } from 'vitest'
import {
  addPanel,
  BASE_CLEAR,
  BASE_CUP,
  CLEAR_CUP,
  coat,
  DOOR,
  JOB,
  outsideOf,
  panelOf,
  queued,
  refusalOf,
  SEALER_CUP,
  said,
  shopWith,
  vanWith,
  WING,
  whereIs,
} from '../../support/given.ts'
import { BASE, CLEAR, SEALER } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

const SURFACER = {
  ...SEALER,
  sheet: 'surfacer-2k',
  name: '2K surfacer, 4:1',
  stage: 'primer',
  coats: { least: 2, planned: 2, most: 3 },
  recoatWithin: 'mustSand',
  cure: { air: [{ atC: 20, minutes: 120 }] },
} as const
const SHEETS = [BASE, CLEAR, SEALER, SURFACER]
const P1 = 'PPPP2222'
const P2 = 'QQQQ2222'

type Step = readonly [min: number, type: string, data: object]
const prep = (min: number, step: number, grit?: number): Step => [
  min,
  'DoPrepStep',
  { panel: DOOR, step, ...(grit ? { grit } : {}) },
]
const spray = (min: number, cup: string, kind = 'full'): Step[] => [
  [min, 'StartCoat', { panels: [DOOR], cup, kind }],
  [min + 2, 'FinishCoat', { panels: [DOOR] }],
]
const cup = (min: number, id: string, sheet: { sheet: string }): Step => [
  min,
  'MixCup',
  { cup: id, sheet: sheet.sheet, totalMl: 400 },
]
const cure = (from: number, to: number): Step[] => [
  [from, 'StartCure', { panels: [DOOR], mode: 'air' }],
  [to, 'EndCure', { panels: [DOOR] }],
]
const PASS = (min: number): Step => [min, 'PassPanel', { panel: DOOR }]
const sealer = { stage: 'sealer', sheet: SEALER.sheet }
const surfacer = { stage: 'primer', sheet: SURFACER.sheet }

type Walk = { operation: string; route: readonly object[]; steps: readonly Step[] }
const WALKS: readonly Walk[] = [
  {
    operation: 'new-part',
    route: [{ stage: 'prep' }, sealer, ...BASE_CLEAR, { stage: 'cure' }, { stage: 'polish' }],
    steps: [
      prep(1, 0, 320),
      cup(2, SEALER_CUP, SEALER),
      ...spray(3, SEALER_CUP),
      cup(19, BASE_CUP, BASE),
      ...spray(20, BASE_CUP),
      ...spray(30, BASE_CUP),
      cup(46, CLEAR_CUP, CLEAR),
      ...spray(47, CLEAR_CUP),
      ...spray(59, CLEAR_CUP),
      ...cure(62, 782),
      [790, 'PolishPanel', { panel: DOOR }],
      PASS(791),
    ],
  },
  {
    // The surfacer is cured and sanded, and goes on a second time: the stage occurs twice.
    operation: 'repair',
    route: [
      { stage: 'prep' },
      surfacer,
      { stage: 'cure' },
      { stage: 'sand' },
      surfacer,
      { stage: 'cure' },
      { stage: 'sand' },
      ...BASE_CLEAR,
      { stage: 'cure' },
    ],
    steps: [
      prep(1, 0, 180),
      cup(2, P1, SURFACER),
      ...spray(3, P1),
      ...spray(10, P1),
      ...cure(20, 140),
      prep(150, 3, 240),
      cup(151, P2, SURFACER),
      ...spray(152, P2),
      ...spray(160, P2),
      ...cure(170, 290),
      prep(300, 6, 500),
      cup(301, BASE_CUP, BASE),
      ...spray(302, BASE_CUP),
      ...spray(312, BASE_CUP),
      cup(328, CLEAR_CUP, CLEAR),
      ...spray(329, CLEAR_CUP),
      ...spray(341, CLEAR_CUP),
      ...cure(350, 1070),
      PASS(1071),
    ],
  },
  {
    operation: 'blend',
    route: [{ stage: 'prep' }, ...BASE_CLEAR, { stage: 'cure' }],
    steps: [
      prep(1, 0, 1000),
      cup(2, BASE_CUP, BASE),
      ...spray(3, BASE_CUP, 'blend'),
      ...spray(13, BASE_CUP, 'blend'),
      ...spray(23, BASE_CUP, 'drop'),
      cup(40, CLEAR_CUP, CLEAR),
      ...spray(41, CLEAR_CUP),
      ...spray(53, CLEAR_CUP),
      ...cure(60, 780),
      PASS(781),
    ],
  },
  {
    operation: 'clear-only',
    route: [{ stage: 'sand' }, { stage: 'clear', sheet: CLEAR.sheet }, { stage: 'cure' }],
    steps: [
      prep(1, 0, 1000),
      cup(2, CLEAR_CUP, CLEAR),
      ...spray(3, CLEAR_CUP),
      ...spray(15, CLEAR_CUP),
      ...cure(20, 740),
      PASS(741),
    ],
  },
]

describe('a panel from bare to passed', () => {
  test.each(WALKS)('$operation', ({ operation, route, steps }) => {
    const shop = addPanel(shopWith(SHEETS), route, { operation })
    for (const [min, type, data] of steps) {
      const drafts = shop.at(min).do(type, data)
      expect(drafts.flatMap((d) => d.outside ?? [])).toEqual([])
    }
    expect(whereIs(shop)).toBe('passed')
    expect(new Set(panelOf(shop).status)).toEqual(new Set(['done']))
    expect(shop.do('CloseJob', { job: JOB })).toHaveLength(1)
  })

  test('the panel is in each stage until it is done', () => {
    const { operation, route, steps } = WALKS[1] as Walk
    const shop = addPanel(shopWith(SHEETS), route, { operation })
    const stood = steps.map(([min, type, data]) => {
      shop.at(min).do(type, data)
      return whereIs(shop).split('.')[0]
    })
    expect(stood.filter((s, i) => s !== stood[i - 1])).toEqual([
      'primer',
      'cure',
      'sand',
      'primer',
      'cure',
      'sand',
      'base',
      'clear',
      'cure',
      'finished',
      'passed',
    ])
  })
})

describe('setting a route', () => {
  const add = (route: readonly object[], more: object = {}) => {
    const shop = shopWith()
    shop.do('OpenJob', {
      job: JOB,
      title: 'Delivery van',
      colours: [{ key: 'white', code: 'van white' }],
    })
    const panel = { job: JOB, panel: DOOR, name: 'Rear door', operation: 'blend', route, ...more }
    return said(shop.send('AddPanel', panel))
  }
  test.each([
    ['an unknown sheet', [{ stage: 'clear', sheet: 'none' }], 'unknownThing'],
    [
      'a stage that is not the stage of its sheet',
      [{ stage: 'base', sheet: CLEAR.sheet }],
      'data.route.0.stage',
    ],
    ['a colour that the job has not', [{ ...BASE_CLEAR[0], colour: 'red' }], 'unknownThing'],
    [
      'a blend that is not cleared edge to edge',
      [{ ...BASE_CLEAR[1], face: 'spot' }],
      'data.route.0.face',
    ],
    [
      "a blend with the job's colour, cleared whole",
      [{ ...BASE_CLEAR[0], colour: 'white', face: 'spot' }, BASE_CLEAR[1]],
      'done',
    ],
    [
      'a cure that names the product that it cures',
      [BASE_CLEAR[1], { stage: 'cure', sheet: CLEAR.sheet }],
      'done',
    ],
  ])('%s', (_, route, want) => {
    expect(add(route as object[])).toBe(want)
  })

  test('an unknown job, and a route without steps', () => {
    expect(add(BASE_CLEAR, { job: 'KKKK2222' })).toBe('unknownThing')
    expect(() => add([])).toThrow("data.route: [] won't work. Use a list of 1 to 60 items.")
  })

  /** One of two base coats on. */
  const begun = (): Shop => coat(vanWith(BASE_CLEAR), BASE_CUP, 1, 3)
  const set = (shop: Shop, route: readonly object[]) =>
    shop.send('SetRoute', { panel: DOOR, route })

  test('keeps what was done, and takes steps after it', () => {
    const shop = coat(begun(), BASE_CUP, 11, 13)
    expect(said(set(shop, [...BASE_CLEAR, { stage: 'cure' }, { stage: 'polish' }]))).toBe('done')
    expect(panelOf(shop).status).toEqual(['done', 'open', 'open', 'open'])
  })

  test('leaves steps with work on them where they are', () => {
    const refusal = refusalOf(set(begun(), [{ stage: 'prep' }, ...BASE_CLEAR]))
    expect(refusal.code).toBe('routeInUse')
    expect(refusal.message).toContain('Work was done on step 1, base: leave it as it is.')
  })

  test('a plan lowered to the coats that are on ends the step', () => {
    const shop = begun()
    set(shop, [{ ...BASE_CLEAR[0], coats: 1 }, BASE_CLEAR[1] as object])
    expect(whereIs(shop)).toBe('clear.due')
  })

  test('not while a coat or a cure runs, and not after the panel has passed', () => {
    const shop = begun()
    shop.at(11).do('StartCoat', { panels: [DOOR], cup: BASE_CUP })
    expect(said(set(shop, BASE_CLEAR))).toBe('coatRunning')
    const passed = vanWith([{ stage: 'polish' }])
    passed.do('PolishPanel', { panel: DOOR })
    passed.do('PassPanel', { panel: DOOR })
    expect(said(set(passed, BASE_CLEAR))).toBe('wrongStep')
  })
})

describe('work by hand', () => {
  const route = [{ stage: 'prep' }, { stage: 'sand' }, ...BASE_CLEAR]
  const prepStep = (shop: Shop, step: number) =>
    said(shop.send('DoPrepStep', { panel: DOOR, step }))

  test('one DoPrepStep completes one step, in order; sprayed steps are not done by hand', () => {
    const shop = vanWith(route)
    expect([prepStep(shop, 1), prepStep(shop, 0), prepStep(shop, 0)]).toEqual([
      'wrongStep',
      'done',
      'wrongStep',
    ])
    expect([prepStep(shop, 1), prepStep(shop, 2)]).toEqual(['done', 'wrongStep'])
  })

  test('a step is skipped with a reason, the due one only', () => {
    const shop = vanWith(route)
    const skip = (step: number) =>
      said(shop.send('SkipStep', { panel: DOOR, step, reason: 'Sound finish' }))
    expect([skip(1), skip(0)]).toEqual(['wrongStep', 'done'])
    expect([panelOf(shop).status[0], whereIs(shop)]).toEqual(['skipped', 'sand'])
    expect(() => shop.parse('SkipStep', { panel: DOOR, step: 1 })).toThrow('data.reason is missing')
  })

  test('late, a step done out of turn is kept as done, and is outside', () => {
    const shop = vanWith(route)
    const [draft] = queued(shop.at(60), 5, 'DoPrepStep', { panel: DOOR, step: 1 })
    expect(outsideOf(draft)).toEqual(['wrongStep'])
    expect(panelOf(shop).status.slice(0, 2)).toEqual(['open', 'done'])
  })

  test('a panel that is removed takes nothing more and holds up nothing', () => {
    const shop = addPanel(vanWith(route), BASE_CLEAR, { panel: WING, name: 'Side' })
    shop.do('RemovePanel', { panel: DOOR })
    expect(prepStep(shop, 0)).toBe('closed')
    shop.do('RemovePanel', { panel: WING })
    expect(said(shop.send('CloseJob', { job: JOB }))).toBe('done')
  })
})
