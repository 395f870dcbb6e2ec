import { describe, expect, test } from 'vitest'
import { actsOf } from '../../../kiosk/lanes/acts.ts'
import { lanesOf } from '../../../kiosk/lanes/lanes.ts'
import { en } from '../../../kiosk/words/all.ts'
import {
  addPanel,
  cupOf,
  DOOR,
  gunOf,
  JOB,
  mix,
  refusalOf,
  said,
  shopWith,
  stateOf,
  WING,
} from '../../support/given.ts'
import { BASE } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

const RED_CAR = JOB
const WHITE_VAN = 'KKKK2222'
const RED_CUP = 'RRRR2222'
const WHITE_CUP = 'WWWW3333'
const GUN = 'gun-1'
const ROUTE = [{ stage: 'base', sheet: BASE.sheet, colour: 'body' }]

type Code = { code: string; variant?: string }

/** Two jobs that both call their color "body", each with a cup of it. */
function twoJobs(red: Code = { code: 'R-1' }, white: Code = { code: 'W-2' }): Shop {
  const shop = shopWith()
  shop.do('OpenJob', { job: RED_CAR, title: 'Red car', colours: [{ key: 'body', ...red }] })
  shop.do('OpenJob', { job: WHITE_VAN, title: 'White van', colours: [{ key: 'body', ...white }] })
  addPanel(shop, ROUTE)
  mix(shop, RED_CUP, BASE.sheet, { job: RED_CAR, colour: 'body' })
  mix(shop, WHITE_CUP, BASE.sheet, { job: WHITE_VAN, colour: 'body' })
  return shop
}

const start = (shop: Shop, cup: string, more: object = {}) =>
  shop.send('StartCoat', { panels: [DOOR], cup, ...more })

describe('a color belongs to its job', () => {
  test('the other job\'s "body" does not go on this one', () => {
    const refusal = refusalOf(start(twoJobs(), WHITE_CUP))
    expect(refusal.code).toBe('wrongColour')
    expect(refusal.message).toBe('Rear door: It needs color body R-1; the cup holds body W-2.')
    expect(said(start(twoJobs(), RED_CUP))).toBe('done')
  })

  test('a reason takes it, for a color that is really the same', () => {
    const shop = twoJobs()
    const [coat] = shop.do('StartCoat', {
      panels: [DOOR],
      cup: WHITE_CUP,
      override: { reason: 'same paint, typed another way' },
    })
    expect(coat?.override?.codes).toEqual(['wrongColour'])
  })

  test.each([
    ['the same code', { code: 'W-2' }, { code: 'W-2' }, 'done'],
    [
      'the same code and variant',
      { code: 'W-2', variant: 'V1' },
      { code: 'W-2', variant: 'V1' },
      'done',
    ],
    [
      'another variant',
      { code: 'W-2', variant: 'V1' },
      { code: 'W-2', variant: 'V2' },
      'wrongColour',
    ],
    ['a variant beside none', { code: 'W-2' }, { code: 'W-2', variant: 'V1' }, 'wrongColour'],
  ])('of two jobs %s: %o and %o', (_, red, white, answer) => {
    expect(said(start(twoJobs(red, white), WHITE_CUP))).toBe(answer)
  })

  test('another key of the same job is another color', () => {
    const shop = shopWith()
    const colours = [
      { key: 'body', code: 'R-1' },
      { key: 'roof', code: 'R-1' },
    ]
    shop.do('OpenJob', { job: JOB, title: 'Two-tone van', colours })
    addPanel(shop, ROUTE)
    mix(shop, RED_CUP, BASE.sheet, { job: JOB, colour: 'roof' })
    expect(refusalOf(start(shop, RED_CUP)).message).toBe(
      'Rear door: It needs color body; the cup holds roof.',
    )
  })

  test('a step that names no color takes none that its job does not have', () => {
    const shop = twoJobs()
    shop.do('AddPanel', {
      job: RED_CAR,
      panel: WING,
      name: 'Fender',
      operation: 'repair',
      route: [{ stage: 'base', sheet: BASE.sheet }],
    })
    expect(said(shop.fork().send('StartCoat', { panels: [WING], cup: WHITE_CUP }))).toBe(
      'wrongColour',
    )
    expect(said(shop.send('StartCoat', { panels: [WING], cup: RED_CUP }))).toBe('done')
  })

  test('a cup without a color, and one that was mixed for no job by its key or code, fit', () => {
    const shop = twoJobs()
    mix(shop, 'GGGG2222', BASE.sheet)
    mix(shop, 'HHHH2222', BASE.sheet, { colour: 'R-1' })
    mix(shop, 'KKKK3333', BASE.sheet, { colour: 'W-2' })
    expect(said(start(shop.fork(), 'GGGG2222'))).toBe('done')
    expect(said(start(shop.fork(), 'HHHH2222'))).toBe('done')
    expect(said(start(shop.fork(), 'KKKK3333'))).toBe('wrongColour')
  })

  test('what was tinted by hand fits its own job only', () => {
    const shop = twoJobs({ code: 'W-2' }, { code: 'W-2' })
    mix(shop, 'GGGG2222', BASE.sheet, { job: WHITE_VAN, colour: 'body', tint: 'T1' })
    mix(shop, 'HHHH2222', BASE.sheet, { job: RED_CAR, colour: 'body', tint: 'T1' })
    expect(said(start(shop.fork(), 'GGGG2222'))).toBe('wrongColour')
    expect(said(start(shop.fork(), 'HHHH2222'))).toBe('done')
    const add = [{ role: 'tint', name: 'T2', ml: 3 }]
    shop.do('PourCup', { cup: 'KKKK3333', from: [{ cup: WHITE_CUP }], add })
    expect(cupOf(shop, 'KKKK3333').paint).toEqual({ job: WHITE_VAN, code: 'W-2', tint: 'T2' })
    expect(said(start(shop.fork(), 'KKKK3333'))).toBe('wrongColour')
  })
})

describe('gun, pour and kiosk follow it', () => {
  test("the other job's color needs a clean gun, the same code does not", () => {
    const shop = twoJobs()
    shop.do('LoadGun', { gun: GUN, cup: WHITE_CUP })
    expect(refusalOf(start(shop.fork(), RED_CUP, { gun: GUN })).code).toBe('gunHolds')
    const same = twoJobs({ code: 'W-2' })
    same.do('LoadGun', { gun: GUN, cup: WHITE_CUP })
    expect(said(start(same, RED_CUP, { gun: GUN }))).toBe('done')
    expect(stateOf(same, 'gun', GUN)).toBe('loaded')
    expect(gunOf(same, GUN)?.loads.at(-1)?.paint).toEqual({ job: RED_CAR, code: 'W-2' })
  })

  test('white is not poured into red', () => {
    const shop = twoJobs()
    const pour = { cup: 'GGGG2222', from: [{ cup: RED_CUP }, { cup: WHITE_CUP }] }
    expect(refusalOf(shop.send('PourCup', pour)).message).toBe(
      'It needs color body R-1; the cup holds body W-2.',
    )
    expect(said(twoJobs({ code: 'W-2' }).send('PourCup', pour))).toBe('done')
    const override = { reason: 'same paint' }
    expect(said(shop.send('PourCup', { ...pour, override }))).toBe('done')
  })

  test('a coat goes on from no cup of another job', () => {
    const shop = twoJobs()
    start(shop, RED_CUP)
    const goOn = { panels: [DOOR], cup: WHITE_CUP }
    expect(said(shop.fork().send('ContinueCoat', goOn))).toBe('wrongColour')
    expect(said(shop.send('ContinueCoat', { ...goOn, override: { reason: 'same' } }))).toBe('done')
  })

  test('the lane offers the fitting cup alone', () => {
    const shop = twoJobs()
    const [lane] = lanesOf(shop.state, shop.now)
    const offered = (lane ? actsOf(shop.state, lane, en, shop.now) : []).flatMap((act) =>
      act.type === 'StartCoat' ? [act.data.cup] : [],
    )
    expect(offered).toEqual([RED_CUP])
  })
})
