import { describe, expect, test } from 'vitest'
import { asksOf } from '../../../machines/panel/asks.ts'
import { coolFrom } from '../../../machines/panel/roomHeat.ts'
import {
  addPanel,
  air,
  around,
  BASE_CLEAR,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_CURE,
  CLEAR_ONLY,
  coat,
  DOOR,
  mix,
  outsideOf,
  panelOf,
  queued,
  refusalOf,
  said,
  shopWith,
  startCoat,
  vanWith,
  WING,
} from '../../support/given.ts'
import { BASE, CLEAR, SEALER } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

/** What stands beside a rule: the panel next to the bake, the lamp that is carried, the figure that nobody typed. */

const INFRARED = { fullMin: 12, flashBefore: 10 }
const SIDE = { panel: WING, name: 'Side' }
const side = startCoat(CLEAR_CUP, { panels: [WING] })
const REASON = { reason: 'asked for' }

/** A door with its clear on at minute 15 and a bare side, each in a zone; more clear at minute 50. */
function twoPanels(doorZone = 'booth', sideZone = 'booth'): Shop {
  const sheet = { ...CLEAR, cure: { ...CLEAR.cure, infrared: INFRARED } }
  const shop = addPanel(shopWith([sheet]), CLEAR_CURE, { zone: doorZone })
  addPanel(mix(shop, CLEAR_CUP, CLEAR.sheet), CLEAR_CURE, { ...SIDE, zone: sideZone })
  return coat(coat(shop, CLEAR_CUP, 1, 3), CLEAR_CUP, 13, 15)
}
const FRESH = 'FFFF2222'
const freshSide = startCoat(FRESH, { panels: [WING] })

function heated(shop: Shop, mode: string, fromMin: number, toMin: number): Shop {
  shop.at(fromMin).do('StartCure', { panels: [DOOR], mode })
  shop.at(toMin).do('EndCure', { panels: [DOOR] })
  return mix(shop, FRESH, CLEAR.sheet)
}

describe('what stood beside a bake', () => {
  test('is hot as well: half an hour, or until it is measured at 35 °C', () => {
    const shop = heated(twoPanels(), 'bake', 30, 60)
    expect(around(shop, 90, freshSide)).toEqual(['partHot', 'done'])
    const read = shop.fork().at(65)
    read.do('ReadPart', { panel: WING, partC: 35.1 })
    expect(said(freshSide(read))).toBe('partHot')
    read.do('ReadPart', { panel: WING, partC: 35 })
    expect(said(freshSide(read))).toBe('done')
    expect(refusalOf(freshSide(shop.at(61))).overridable).toBe(true)
  })

  test('is not hot beside a lamp, in another zone, or brought in when the bake was over', () => {
    expect(said(freshSide(heated(twoPanels(), 'infrared', 30, 42)))).toBe('done')
    expect(said(freshSide(heated(twoPanels('booth', 'prep'), 'bake', 30, 60)))).toBe('done')
    const brought = heated(twoPanels('booth', 'prep'), 'bake', 30, 60)
    brought.do('MovePanel', { panel: WING, zone: 'booth' })
    expect(said(freshSide(brought))).toBe('done')
  })

  test('is not hot by a bake that was begun by mistake: from five minutes on', () => {
    expect(said(freshSide(heated(twoPanels(), 'bake', 30, 34.9)))).toBe('done')
    expect(said(freshSide(heated(twoPanels(), 'bake', 30, 35)))).toBe('partHot')
  })

  test('is hot from when it was carried out, not from the end of the bake', () => {
    const shop = twoPanels()
    shop.at(30).do('StartCure', { panels: [DOOR], mode: 'bake' })
    shop.at(40).do('MovePanel', { panel: WING, zone: 'yard' })
    shop.at(60).do('EndCure', { panels: [DOOR] })
    expect(around(mix(shop, FRESH, CLEAR.sheet), 70, freshSide)).toEqual(['partHot', 'done'])
  })

  test('is hot from the moment in which the bake ends, whatever a clock beside it says', () => {
    const shop = twoPanels()
    shop.at(30).do('StartCure', { panels: [DOOR], mode: 'bake' })
    shop.at(60).do('EndCure', { panels: [DOOR] })
    for (const id of [DOOR, WING])
      expect(coolFrom(shop.state, panelOf(shop, id), minute(59.9))).toBe(minute(90))
  })

  test('a coat of before the bake that is told late was on a cool panel', () => {
    const shop = heated(twoPanels(), 'bake', 30, 60)
    const told = queued(shop.at(70), 20, 'StartCoat', { panels: [WING], cup: CLEAR_CUP })
    expect(outsideOf(told[0])).not.toContain('partHot')
  })
})

describe('heat that is carried to wet paint', () => {
  const carry = (shop: Shop, more: object = {}) =>
    shop.send('MovePanel', { panel: DOOR, zone: 'booth', ...more })
  const lit = (): Shop => {
    const shop = twoPanels('prep')
    shop.at(30).do('StartCure', { panels: [DOOR], mode: 'infrared' })
    return shop
  }

  test('is refused while a coat is sprayed there, and until that air is purged; nobody overrides it', () => {
    const shop = lit()
    shop.at(31).do('StartCoat', { panels: [WING], cup: CLEAR_CUP })
    expect(refusalOf(carry(shop))).toMatchObject({ code: 'wetInZone', overridable: false })
    expect(said(carry(shop, { override: REASON }))).toBe('wetInZone')
    shop.at(32).do('FinishCoat', { panels: [WING] })
    expect(refusalOf(carry(shop.at(34.9)))).toMatchObject({ overridable: false })
  })

  test('is for a lead to decide while another panel flashes, and free after that', () => {
    const shop = lit()
    coat(shop, CLEAR_CUP, 31, 32, { panels: [WING] })
    expect(refusalOf(carry(shop.at(36)))).toMatchObject({ code: 'wetInZone', overridable: true })
    expect(around(shop, 42, carry)).toEqual(['wetInZone', 'done'])
  })

  test('a lamp over a panel that stays is carried nowhere', () => {
    const shop = lit()
    expect(said(shop.at(31).send('MovePanel', { panel: DOOR, zone: 'prep' }))).toBe('done')
  })
})

test('air that was read in a bake is asked for again by the next start', () => {
  const shop = twoPanels()
  shop.at(30).do('StartCure', { panels: [DOOR], mode: 'bake' })
  air(shop, 50, 60, 0.1)
  shop.at(60).do('EndCure', { panels: [DOOR] })
  const asks = (min: number) =>
    asksOf(shop.state, [panelOf(shop, WING)], minute(min)).map(({ what }) => what)
  expect(asks(61)).toContain('air')
  air(shop, 62, 22, 0.5)
  expect(asks(62)).not.toContain('air')
})

describe('a figure that nobody typed is not zero', () => {
  const PRIMER = { ...SEALER, sheet: 'primer-2k', stage: 'primer' } as const
  const route = [
    { stage: 'primer', sheet: PRIMER.sheet },
    { stage: 'sand' },
    ...CLEAR_ONLY,
  ] as const
  /** A primer whose next product waits 15 min, on at minute 3. */
  const primed = (sheet: object = {}): Shop => {
    const shop = addPanel(shopWith([{ ...PRIMER, ...sheet }, CLEAR]), route)
    return coat(mix(shop, FRESH, PRIMER.sheet), FRESH, 1, 3)
  }

  test('sanding waits at least until another product might go on', () => {
    const sand = (shop: Shop) => shop.send('DoPrepStep', { panel: DOOR, step: 1, grit: 600 })
    expect(around(primed(), 18, sand)).toEqual(['sandEarly', 'done'])
    const abrade = (shop: Shop) => shop.send('AbradePanel', { panel: DOOR, grit: 600 })
    expect(around(primed(), 18, abrade)).toEqual(['sandEarly', 'done'])
    // A figure that was typed holds, a shorter one as well.
    expect(around(primed({ ready: { sand: 5 } }), 8, sand)).toEqual(['sandEarly', 'done'])
  })

  test('taping and polishing as well', () => {
    const taped = coat(vanWith([...CLEAR_ONLY, { stage: 'prep' }]), CLEAR_CUP, 1, 3)
    coat(taped, CLEAR_CUP, 13, 15)
    const tape = (shop: Shop) => shop.send('DoPrepStep', { panel: DOOR, step: 1, work: 'mask' })
    expect(around(taped, 25, tape)).toEqual(['notReady', 'done'])
    const polish = (shop: Shop) => shop.send('PolishPanel', { panel: DOOR })
    expect(around(taped, 25, polish)).toEqual(['notReady', 'done'])
  })

  test('after heat the part is cool before anybody sands it', () => {
    const cure = { infrared: INFRARED }
    const shop = addPanel(shopWith([{ ...PRIMER, cure }, CLEAR]), [
      route[0],
      { stage: 'cure' },
      ...route.slice(1),
    ])
    heated(coat(mix(shop, CLEAR_CUP, PRIMER.sheet), CLEAR_CUP, 1, 3), 'infrared', 20, 32)
    const sand = (one: Shop) => one.send('DoPrepStep', { panel: DOOR, step: 2, grit: 600 })
    expect(around(shop, 62, sand)).toEqual(['sandEarly', 'done'])
  })
})

describe('degreasing', () => {
  const prepped = (wish: object = {}): Shop => {
    const shop = addPanel(shopWith(), [{ stage: 'prep', work: 'degrease' }, ...BASE_CLEAR], wish)
    return mix(shop, BASE_CUP, BASE.sheet)
  }
  const base = startCoat(BASE_CUP)
  const degreased = (shop: Shop, min: number): Shop => {
    shop.at(min).do('DoPrepStep', { panel: DOOR, step: 0 })
    return shop
  }
  const movers = (shop: Shop, min: number, on: boolean): Shop => {
    shop.at(min).do('SetAirMovers', { zone: 'booth', on })
    return shop
  }

  test('dries in 5 min, twice as fast while air movers are on', () => {
    expect(around(degreased(prepped(), 1), 6, base)).toEqual(['cleanerWet', 'done'])
    const blown = degreased(movers(prepped(), 0, true), 1)
    expect(around(blown, 3.5, base)).toEqual(['cleanerWet', 'done'])
    const later = movers(degreased(prepped(), 1), 3, true)
    expect(around(later, 4.5, base)).toEqual(['cleanerWet', 'done'])
    const off = movers(degreased(movers(prepped(), 0, true), 1), 2, false)
    expect(around(off, 5, base)).toEqual(['cleanerWet', 'done'])
  })

  test.each([
    ['base', BASE, ['cleanerOver']],
    ['adhesion-promoter', BASE, ['cleanerOver']],
    ['clear', CLEAR, []],
  ] as const)('over %s it is a fact with its mark', (stage, sheet, marks) => {
    const over = { ...sheet, sheet: 'under', stage, coats: { least: 1, planned: 1, most: 2 } }
    const shop = addPanel(shopWith([over, CLEAR]), [
      { stage, sheet: 'under' },
      { stage: 'prep' },
      ...CLEAR_ONLY,
    ])
    coat(mix(shop, FRESH, 'under'), FRESH, 1, 3)
    const work = { panel: DOOR, step: 1, work: 'degrease' }
    expect(outsideOf(shop.at(20).do('DoPrepStep', work)[0])).toEqual(marks)
  })
})

test('a side that nobody baked beside is sprayed as before', () => {
  expect(said(side(twoPanels().at(20)))).toBe('done')
})
