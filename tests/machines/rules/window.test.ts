import { describe, expect, test } from 'vitest'
import {
  air,
  around,
  BASE_CLEAR,
  BASE_CUP,
  bells,
  CLEAR_CUP,
  CLEAR_CURE,
  CLEAR_ONLY,
  coat,
  DOOR,
  dueMin,
  MS,
  minuteOf,
  mix,
  refusalOf,
  SEALER_CUP,
  said,
  startCoat,
  vanWith,
} from '../../support/given.ts'
import { BASE, CLEAR, SEALER } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

/** Damp air is too near to its dew point as well: that is another rule. */
const IN_DAMP = { override: { reason: 'CLIMATE', codes: ['dewPoint'] } }
const FRESH = 'FFFF2222'
const DAY_MIN = 1440
const SEALED = [
  { stage: 'sealer', sheet: SEALER.sheet },
  { stage: 'base', sheet: BASE.sheet },
]

/** One clear coat finished at minute 5, and a fresh cup of clear mixed at `freshMin`. */
function oneClear(more: object, freshMin = 460): Shop {
  const shop = coat(vanWith(CLEAR_ONLY, [{ ...CLEAR, ...more }]), CLEAR_CUP, 1, 5)
  return mix(shop.at(freshMin), FRESH, CLEAR.sheet)
}

/** A sealer coat finished at minute 3 whose window shuts at 243, under base; a fresh sealer cup. */
function sealed(more: object = {}, base: object = BASE): Shop {
  const shop = coat(vanWith(SEALED, [{ ...SEALER, ...more }, base]), SEALER_CUP, 1, 3)
  return mix(shop.at(230), FRESH, SEALER.sheet)
}
const abrade = (shop: Shop, min: number): Shop => {
  shop.at(min).do('AbradePanel', { panel: DOOR, grit: 800 })
  return shop
}
const next = (shop: Shop, min: number): string => said(startCoat(BASE_CUP)(shop.fork().at(min)))
const same = (shop: Shop, min: number): string => said(startCoat(FRESH)(shop.fork().at(min)))

describe('the recoat window', () => {
  test('it shuts at its last moment, counted from the finish of the last coat', () => {
    expect(around(oneClear({}), 485, startCoat(FRESH))).toEqual(['done', 'windowShut'])
  })

  test('it binds before the next step too', () => {
    expect(around(sealed(), 243, startCoat(BASE_CUP))).toEqual(['done', 'windowShut'])
  })

  test('the refusal says since when, what to do, and never that it clears by itself', () => {
    const refusal = refusalOf(startCoat(FRESH)(oneClear({}).at(515)))
    expect(refusal.message).toBe('Rear door: The recoat window shut 30 min ago. Abrade it.')
    expect(refusal.clearsAt).toBeUndefined()
    expect(refusal.overridable).toBe(true)
  })

  test('a new coat opens a new window', () => {
    const shop = coat(oneClear({}), FRESH, 470, 472)
    mix(shop.at(940), 'GGGG2222', CLEAR.sheet)
    expect(around(shop, 472 + 480, startCoat('GGGG2222'))).toEqual(['done', 'windowShut'])
  })

  test('an unlimited window never shuts and has no bell', () => {
    const shop = oneClear({ recoatWithin: 'unlimited' }, 30 * DAY_MIN)
    expect(said(startCoat(FRESH)(shop))).toBe('done')
    expect(bells(shop, 'windowClosing', 'windowShut')).toEqual([])
  })

  test('a sheet that must be sanded lets its own coats follow, and the next step only once abraded', () => {
    const shop = sealed({ recoatWithin: 'mustSand' })
    expect(same(shop, 231)).toBe('done')
    expect(next(shop, 231)).toBe('windowShut')
    expect(next(abrade(shop, 231), 232)).toBe('done')
  })
})

describe('after the window', () => {
  test.each([
    ['abrade', { same: 'windowShut', next: 'windowShut' }, { same: 'done', next: 'done' }],
    [
      'abradeAndRecoat',
      { same: 'windowShut', next: 'windowShut' },
      { same: 'done', next: 'windowShut' },
    ],
    ['reapply', { same: 'done', next: 'windowShut' }, { same: 'done', next: 'windowShut' }],
  ])(
    '"%s" says what goes on as it is, and what once it is abraded',
    (afterWindow, asIs, abraded) => {
      const shop = sealed({ afterWindow })
      expect({ same: same(shop, 250), next: next(shop, 250) }).toEqual(asIs)
      abrade(shop, 251)
      expect({ same: same(shop, 252), next: next(shop, 252) }).toEqual(abraded)
    },
  )

  test('abraded and recoated, the next step goes on in the new window', () => {
    const shop = abrade(sealed({ afterWindow: 'abradeAndRecoat' }), 250)
    coat(shop, FRESH, 251, 253)
    expect(around(shop, 268, startCoat(BASE_CUP))).toEqual(['flashNotOver', 'done'])
    expect(dueMin(shop, 'windowShut')).toBe(253 + 240)
  })

  test('abraded at the very moment at which it shuts is abraded after', () => {
    expect(next(abrade(sealed({ afterWindow: 'reapply' }), 243 - MS), 300)).toBe('done')
    expect(next(abrade(sealed({ afterWindow: 'reapply' }), 243), 300)).toBe('windowShut')
  })

  test.each(['abrade', 'abradeAndRecoat', 'reapply'])(
    'abraded before it shut, the window stays open whatever comes after it (%s)',
    (afterWindow) => {
      expect(next(abrade(sealed({ afterWindow }), 242), 300)).toBe('done')
    },
  )

  test('a sand step abrades, a prep step only with a grit', () => {
    const route = [SEALED[0] as object, { stage: 'sand' }, { stage: 'prep' }, SEALED[1] as object]
    const shop = vanWith(route, [{ ...SEALER, recoatWithin: 'mustSand' }, BASE])
    coat(shop, SEALER_CUP, 1, 3).at(30).do('SkipStep', { panel: DOOR, step: 1, reason: 'Flat' })
    const prepped = shop.fork()
    prepped.do('DoPrepStep', { panel: DOOR, step: 2 })
    expect(next(prepped, 31)).toBe('windowShut')
    shop.do('DoPrepStep', { panel: DOOR, step: 2, grit: 800 })
    expect(next(shop, 31)).toBe('done')
  })
})

describe('a do-not-recoat band', () => {
  const band = { recoatAgainAfter: [{ atC: 20, minutes: DAY_MIN }] }
  test('the coat is refused inside the band and accepted from its end on', () => {
    const shop = oneClear(band, 484)
    expect(around(shop, 485, startCoat(FRESH))).toEqual(['done', 'windowShut'])
    mix(shop.at(DAY_MIN), 'GGGG2222', CLEAR.sheet)
    expect(around(shop, 5 + DAY_MIN, startCoat('GGGG2222'))).toEqual(['windowShut', 'done'])
  })

  test('the refusal says when the band ends, and a bell rings then', () => {
    const shop = oneClear(band)
    const { clearsAt } = refusalOf(startCoat(FRESH)(shop.at(500)))
    expect(minuteOf(clearsAt ?? 0)).toBe(5 + DAY_MIN)
    expect(bells(shop, 'coatReady')).toEqual([
      ['coatReady', 15],
      ['coatReady', 5 + DAY_MIN],
    ])
  })
})

describe('a prompt for a coat', () => {
  const READY = ['coatReady', 'windowClosing', 'windowShut'] as const

  test('and the bells of the window stay silent where a band ends as it begins: nothing shuts', () => {
    const shop = oneClear({ recoatAgainAfter: CLEAR.recoatWithin })
    expect(said(startCoat(FRESH)(shop.fork().at(485)))).toBe('done')
    expect(bells(shop, ...READY)).toEqual([['coatReady', 15]])
  })

  test('does not ring into a shut window: in damp air the film flashes after it', () => {
    const damp = { medium: 'waterborne', recoatWithin: [{ atC: 20, minutes: 60 }] }
    const shop = air(oneClear(damp, 6), 6, 20, 0.94)
    // From minute 5 on: 10 min, times (1 - 0.5) / (1 - 0.94).
    expect(said(startCoat(FRESH)(shop.fork().at(5 + 84)))).toBe('windowShut')
    expect(bells(shop, ...READY).map(([bell]) => bell)).toEqual(['windowClosing', 'windowShut'])
  })

  test('rings once where the flash ends after the band: not at its end too', () => {
    const damp = {
      medium: 'waterborne',
      recoatWithin: [{ atC: 20, minutes: 60 }],
      recoatAgainAfter: [{ atC: 20, minutes: 70 }],
      limits: {},
    }
    const shop = air(oneClear(damp, 6), 6, 20, 0.94)
    const flashMin = dueMin(shop, 'coatReady') ?? 0
    expect(flashMin).toBeGreaterThan(75)
    mix(shop.at(80), 'GGGG2222', CLEAR.sheet)
    expect(around(shop, flashMin, startCoat('GGGG2222', IN_DAMP))).toEqual(['flashNotOver', 'done'])
  })

  test('does not ring where the film must be sanded first', () => {
    const shop = sealed({ recoatWithin: 'mustSand' })
    expect(bells(shop, ...READY)).toEqual([])
    expect(next(shop, 231)).toBe('windowShut')
  })
})

describe('what the later sheet says over it', () => {
  test.each([
    ['shorter: it binds', [{ atC: 20, minutes: 60 }], 63],
    ['longer: the earlier sheet binds', [{ atC: 20, minutes: 600 }], 243],
    ['unlimited: the earlier sheet binds', 'unlimited', 243],
  ])('its window over the sealer is %s', (_, recoatWithin, shutMin) => {
    const shop = sealed({}, { ...BASE, over: [{ stage: 'sealer', recoatWithin }] })
    expect(around(shop, shutMin, startCoat(BASE_CUP))).toEqual(['done', 'windowShut'])
  })

  test('it may ask for sanding where the earlier sheet does not', () => {
    const shop = sealed({}, { ...BASE, over: [{ stage: 'sealer', recoatWithin: 'mustSand' }] })
    expect(next(shop, 100)).toBe('windowShut')
    expect(next(abrade(shop, 100), 101)).toBe('done')
  })
})

describe('a waterborne base under a sheet that has its own flash for it', () => {
  // The drying power of the air is 1 - RH at one temperature: at 70 % half of what it is at 40 %.
  const wet = (more: object): Shop => {
    const over = [{ stage: 'base', flashBeforeNext: [{ atC: 20, minutes: 30 }] }]
    const base = { ...BASE, limits: {}, coats: { least: 1, planned: 1, most: 2 }, ...more }
    const shop = vanWith(BASE_CLEAR, [base, { ...CLEAR, limits: {}, potLife: null, over }])
    return coat(shop, BASE_CUP, 1, 3)
  }
  const clearsAt = (shop: Shop, airRh: number) => dueMin(air(shop, 3, 20, airRh), 'coatReady')

  test.each([
    ['waterborne, measured at 40 %, in air of 40 %', 0.4, 0.4, 33],
    ['waterborne, measured at 40 %, in air of 70 %', 0.4, 0.7, 63],
    ['waterborne, measured at 55 %, in air of 70 %', 0.55, 0.7, 48],
    ['waterborne, measured at 70 %, in air of 70 %', 0.7, 0.7, 33],
  ])('that flash too counts from the humidity of the base: %s', (_, rhRef, rh, dueAtMin) => {
    expect(clearsAt(wet({ medium: 'waterborne', rhRef }), rh)).toBe(dueAtMin)
  })

  test('a solvent base under it does not follow the humidity', () => {
    expect(clearsAt(wet({}), 0.7)).toBe(33)
  })
})

describe('cure and window', () => {
  /** Cleared at minutes 3 and 15, curing in the air from 20, a fresh cup at 100. */
  function curing(): Shop {
    const shop = coat(coat(vanWith(CLEAR_CURE), CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
    shop.at(20).do('StartCure', { panels: [DOOR], mode: 'air' })
    return mix(shop.at(100), FRESH, CLEAR.sheet)
  }

  test('a cure that runs leaves the window open; one that ended has shut it, even early', () => {
    const shop = curing()
    expect(said(startCoat(FRESH)(shop.fork().at(110)))).toBe('done')
    shop.at(110).do('EndCure', { panels: [DOOR] })
    expect(said(startCoat(FRESH)(shop.at(111)))).toBe('windowShut')
  })

  test('abrading after the cure opens it, abrading before does not', () => {
    const before = coat(coat(vanWith(CLEAR_CURE), CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
    abrade(before, 25)
      .at(26)
      .do('StartCure', { panels: [DOOR], mode: 'air' })
    mix(before.at(100), FRESH, CLEAR.sheet)
      .at(110)
      .do('EndCure', { panels: [DOOR] })
    expect(said(startCoat(FRESH)(before.at(112)))).toBe('windowShut')
    expect(said(startCoat(FRESH)(abrade(before, 112).at(113)))).toBe('done')
  })

  test('a coat over a film that still cures ends that cure, and the film needs another', () => {
    const shop = coat(curing(), FRESH, 110, 112)
    expect(shop.at(113).refused('EndCure', { panels: [DOOR] })).toBe('notCuring')
    expect(shop.refused('PassPanel', { panel: DOOR })).toBe('cureNotOver')
  })
})
