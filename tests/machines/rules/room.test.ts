import { describe, expect, test } from 'vitest'
import {
  addPanel,
  around,
  CLEAR_CUP,
  CLEAR_CURE,
  coat,
  DOOR,
  JOB,
  mix,
  refusalOf,
  SILL,
  said,
  shopWith,
  WING,
} from '../../support/given.ts'
import { CLEAR } from '../../support/sheets.ts'
import type { Answer, Shop } from '../../support/shop.ts'

/** Heat and wet paint beside each other: a bake or infrared, in a zone or in what it opens to. */

const INFRARED = { minutes: 12, distanceCm: 60, flashBefore: 10 }
const onWing = { panels: [WING] }

/** A door with two coats of clear, the last finished at minute 15, and an empty side. */
function twoPanels(doorZone = 'booth', wingZone = 'booth', clear: object = {}): Shop {
  const sheet = { ...CLEAR, cure: { ...CLEAR.cure, infrared: INFRARED }, ...clear }
  const shop = addPanel(shopWith([sheet]), CLEAR_CURE, { zone: doorZone })
  mix(shop, CLEAR_CUP, CLEAR.sheet)
  addPanel(shop, CLEAR_CURE, { panel: WING, name: 'Side', zone: wingZone })
  return coat(coat(shop, CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
}

const heat =
  (mode: 'air' | 'bake' | 'infrared' = 'bake', override?: object) =>
  (shop: Shop): Answer =>
    shop.send('StartCure', { panels: [DOOR], mode, ...(override ? { override } : {}) })
const spraySide = (shop: Shop): Answer => shop.send('StartCoat', { ...onWing, cup: CLEAR_CUP })
const REASON = { reason: 'asked for' }

describe('no coat starts beside heat', () => {
  test.each(['bake', 'infrared'] as const)('a %s in the zone, and nobody overrides it', (mode) => {
    const shop = twoPanels()
    shop.at(30).do('StartCure', { panels: [DOOR], mode })
    const refusal = refusalOf(spraySide(shop.at(31)))
    expect([refusal.code, refusal.overridable]).toEqual(['heatInZone', false])
    const anyway = { ...onWing, cup: CLEAR_CUP, override: REASON }
    expect(said(shop.send('StartCoat', anyway))).toBe('heatInZone')
    shop.at(40).do('EndCure', { panels: [DOOR] })
    // A bake has warmed what stood beside it.
    if (mode === 'bake') shop.do('ReadPart', { panel: WING, partC: 35 })
    expect(said(spraySide(shop.fork()))).toBe('done')
  })

  test('infrared in the prep bay keeps coats out of the booth that it opens to, from either side', () => {
    for (const [zone, opensTo] of [
      ['booth', 'prep'],
      ['prep', 'booth'],
    ] as const) {
      const shop = twoPanels('prep', 'booth')
      shop.at(30).do('StartCure', { panels: [DOOR], mode: 'infrared' })
      expect(said(spraySide(shop.fork()))).toBe('done')
      shop.do('SaveZone', { zone, opensTo: [opensTo] })
      expect(said(spraySide(shop.fork()))).toBe('heatInZone')
    }
  })

  test('the heat of a job that is closed is over: nobody can end it any more', () => {
    const shop = twoPanels()
    shop.do('OpenJob', { job: 'KKKK2222', title: 'Another van' })
    addPanel(shop, CLEAR_CURE, { job: 'KKKK2222', panel: SILL, name: 'Sill', zone: 'booth' })
    const spraySill = () => said(shop.send('StartCoat', { panels: [SILL], cup: CLEAR_CUP }))
    shop.at(30).do('StartCure', { panels: [DOOR], mode: 'bake' })
    shop.at(40).do('CloseJob', { job: JOB, override: { reason: 'Collected' } })
    expect(said(shop.send('EndCure', { panels: [DOOR] }))).toBe('closed')
    expect(spraySill()).toBe('partHot')
    shop.at(41).do('ReopenJob', { job: JOB })
    expect(spraySill()).toBe('heatInZone')
    shop.at(42).do('CloseJob', { job: JOB, override: { reason: 'Collected' } })
    shop.at(43).do('ReadPart', { panel: SILL, partC: 35 })
    expect(spraySill()).toBe('done')
  })

  test('a late coat there is kept as a fact, with what it broke', () => {
    const shop = twoPanels()
    shop.at(30).do('StartCure', { panels: [DOOR], mode: 'infrared' })
    const late = { at: shop.now + 60_000, enteredAt: shop.now + 60_000 }
    const answer = shop.at(60).send('StartCoat', { ...onWing, cup: CLEAR_CUP }, late)
    const drafts = 'drafts' in answer ? answer.drafts : []
    expect(drafts[0]?.outside?.map(({ code }) => code)).toEqual(['heatInZone'])
  })
})

describe('heat is not started', () => {
  test('while a coat is sprayed in the zone or in what it opens to, whatever the reason', () => {
    const shop = twoPanels('prep', 'booth')
    shop.do('SaveZone', { zone: 'prep', opensTo: ['booth'] })
    shop.at(25).do('StartCoat', { ...onWing, cup: CLEAR_CUP })
    for (const mode of ['bake', 'infrared'] as const) {
      const refusal = refusalOf(heat(mode, REASON)(shop.fork().at(26)))
      expect([refusal.code, refusal.overridable]).toEqual(['wetInZone', false])
    }
    expect(said(heat('air')(shop.fork().at(26)))).toBe('done')
  })

  test.each([
    [undefined, 30 + 3],
    [6, 30 + 6],
    [0, 30],
  ])('before the zone was purged for %s min, its three without a figure', (purgeMin, freeMin) => {
    const shop = twoPanels('prep', 'booth')
    const own = purgeMin === undefined ? {} : { purgeMin }
    shop.do('SaveZone', { zone: 'prep', opensTo: ['booth'], ...own })
    coat(shop, CLEAR_CUP, 28, 30, onWing)
    if (freeMin > 30)
      expect(around(shop, freeMin, heat('bake', REASON))).toEqual(['wetInZone', 'done'])
    else expect(said(heat()(shop.fork().at(30)))).toBe('done')
  })

  test('before the vapor of a gun that was cleaned there is gone', () => {
    const shop = addPanel(twoPanels('prep', 'booth'), CLEAR_CURE, {
      panel: 'HHHH2222',
      zone: 'bay',
    })
    shop.do('SaveZone', { zone: 'prep', opensTo: ['booth'] })
    const fromGun = (min: number, zone?: string) => {
      const copy = coat(shop.fork(), CLEAR_CUP, 16, 17, { ...onWing, gun: 'gun-1' })
      copy.at(min).do('CleanGun', { gun: 'gun-1', ...(zone ? { zone } : {}) })
      return copy
    }
    expect(around(fromGun(28), 31, heat('bake', REASON))).toEqual(['wetInZone', 'done'])
    // Cleaned in a bay with walls it is nothing to the bake.
    expect(said(heat('bake', REASON)(fromGun(28, 'bay').at(29)))).toBe('done')
  })

  test('beside another panel that still flashes, but with a reason', () => {
    const shop = coat(twoPanels(), CLEAR_CUP, 28, 30, onWing)
    expect(around(shop, 40, heat())).toEqual(['wetInZone', 'done'])
    const refusal = refusalOf(heat()(shop.fork().at(35)))
    expect([refusal.overridable, refusal.problems.length]).toEqual([true, 1])
    const answer = heat('bake', REASON)(shop.fork().at(35))
    const [entry] = 'drafts' in answer ? answer.drafts : []
    expect(entry?.override?.codes).toEqual(['wetInZone'])
  })

  test('a panel that flashes in another zone, or that is heated with it, does not hold it up', () => {
    const apart = coat(twoPanels('prep', 'booth'), CLEAR_CUP, 28, 30, onWing)
    expect(said(heat()(apart.at(35)))).toBe('done')
    const both = coat(twoPanels(), CLEAR_CUP, 16, 18, onWing)
    coat(both, CLEAR_CUP, 28, 30, onWing)
    const ask = (s: Shop) => s.send('StartCure', { panels: [DOOR, WING], mode: 'bake' })
    expect(around(both, 40, ask)).toEqual(['flashNotOver', 'done'])
  })

  test('what flashes water is marked and stops nothing', () => {
    const water = { medium: 'waterborne' }
    const shop = coat(twoPanels('booth', 'booth', water), CLEAR_CUP, 28, 30, onWing)
    const answer = heat()(shop.at(35))
    const [entry] = 'drafts' in answer ? answer.drafts : []
    expect(entry?.outside?.map(({ code }) => code)).toEqual(['wetInZone'])
  })

  test('a flash by appearance that nobody looked at is over after an hour, or three times its forecast', () => {
    for (const [minutes, freeMin] of [
      [10, 30 + 60],
      [25, 30 + 75],
    ] as const) {
      const flash = [{ atC: 20, minutes }]
      const seen = { flashBy: 'appearance', floorMin: 1, flashBetween: flash }
      const shop = addPanel(
        shopWith([CLEAR, { ...CLEAR, ...seen, sheet: 'clear-seen' }]),
        CLEAR_CURE,
      )
      const route = [{ stage: 'clear', sheet: 'clear-seen' }, { stage: 'cure' }]
      mix(shop, CLEAR_CUP, CLEAR.sheet)
      mix(shop, 'SEEN2222', 'clear-seen')
      addPanel(shop, route, { panel: WING, name: 'Side' })
      coat(coat(shop, CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
      coat(shop, 'SEEN2222', 28, 30, onWing)
      expect(around(shop, freeMin, heat())).toEqual(['wetInZone', 'done'])
    }
  })
})

describe('moving a panel into heat', () => {
  const move = (shop: Shop): Answer => shop.send('MovePanel', { panel: WING, zone: 'booth' })

  test('is refused while it is wet, and taken once its flash is over', () => {
    const shop = twoPanels('booth', 'prep')
    coat(shop, CLEAR_CUP, 28, 30, onWing)
    shop.do('StartCure', { panels: [DOOR], mode: 'infrared' })
    expect(around(shop, 40, move)).toEqual(['heatInZone', 'done'])
    shop.at(35).do('EndCure', { panels: [DOOR] })
    expect(said(move(shop))).toBe('done')
  })

  test('of a dry panel, or to where it is already, is taken', () => {
    const shop = twoPanels('booth', 'prep')
    shop.at(30).do('StartCure', { panels: [DOOR], mode: 'bake' })
    expect(said(move(shop.fork()))).toBe('done')
  })
})

test('a panel removed from its job holds up no heat', () => {
  const shop = twoPanels()
  coat(shop, CLEAR_CUP, 28, 30, onWing)
  shop.at(31).do('RemovePanel', { panel: WING })
  expect(said(heat()(shop.at(34)))).toBe('done')
})
