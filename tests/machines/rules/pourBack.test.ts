import { describe, expect, test } from 'vitest'
import { backInto } from '../../../kiosk/bench/cups.ts'
import { cupView } from '../../../kiosk/lanes/cups.ts'
import { gunLines } from '../../../kiosk/lanes/gunLines.ts'
import { mixesIn } from '../../../machines/cup/mixes.ts'
import {
  around,
  BASE_CUP,
  CLEAR_CUP,
  CLEAR_ONLY,
  coat,
  cupEndMin,
  cupOf,
  DOOR,
  dueMin,
  gunOf,
  JOB,
  mix,
  outsideOf,
  queued,
  refusalOf,
  said,
  shopWith,
  startCoat,
  stateOf,
  vanWith,
} from '../../support/given.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import { minute, type Shop } from '../../support/shop.ts'

/** What comes back from a gun takes the gun's clock (common practice, no source). */

const GUN = 'gun-1'
const FRESH = 'FFFF2222'

/** Clear mixed at 0 and in the gun, then fresh clear mixed at 30: its hour ends at 90. */
function both(): Shop {
  const shop = vanWith(CLEAR_ONLY)
  shop.do('LoadGun', { gun: GUN, cup: CLEAR_CUP })
  return mix(shop.at(30), FRESH, CLEAR.sheet)
}
const back = (shop: Shop, more: object = {}) =>
  shop.send('PourBack', { gun: GUN, cup: FRESH, ...more })

describe('what comes back from a gun', () => {
  test('ends the cup when the gun had to be clean, and is never sprayed after it', () => {
    const shop = both()
    expect(cupEndMin(shop, FRESH)).toBe(90)
    shop.at(40).do('PourBack', { gun: GUN, cup: FRESH })
    expect(cupEndMin(shop, FRESH)).toBe(60)
    expect(around(shop, 60, startCoat(FRESH))).toEqual(['done', 'potLifeOver'])
  })

  test('goes back into its own cup without another clock', () => {
    const shop = both()
    shop.at(40).do('PourBack', { gun: GUN, cup: CLEAR_CUP, ml: 50 })
    const { clocks, pouredMl } = cupOf(shop, CLEAR_CUP)
    expect([clocks.length, pouredMl, cupEndMin(shop, CLEAR_CUP)]).toEqual([1, 0, 60])
  })

  test('never extends an older cup', () => {
    const shop = vanWith(CLEAR_ONLY)
    mix(shop.at(30), FRESH, CLEAR.sheet)
    shop.do('LoadGun', { gun: GUN, cup: FRESH })
    shop.at(40).do('PourBack', { gun: GUN, cup: CLEAR_CUP })
    expect(cupEndMin(shop, CLEAR_CUP)).toBe(60)
  })

  test('leaves the gun its clock until it is rinsed or cleaned', () => {
    const shop = both()
    shop.at(40).do('PourBack', { gun: GUN, cup: FRESH })
    expect([stateOf(shop, 'gun', GUN), dueMin(shop, 'gunDue')]).toEqual(['loaded', 60])
    expect(gunOf(shop, GUN)?.loads.length).toBe(1)
  })

  test('binds what is poured from that cup as well, and its label reads late', () => {
    const shop = both()
    shop.do('PrintLabel', { cup: FRESH })
    shop.at(40).do('PourBack', { gun: GUN, cup: FRESH, ml: 60 })
    expect(cupView(shop.state, FRESH, cupOf(shop, FRESH), shop.now).labelReadsLate).toBe(true)
    expect(cupOf(shop, FRESH).pouredMl).toBe(-60)
    shop.do('PourCup', { cup: 'GGGG2222', from: [{ cup: FRESH }] })
    expect(cupEndMin(shop, 'GGGG2222')).toBe(60)
  })

  test('runs on in the air to which the cup is carried', () => {
    const shop = both()
    shop.at(40).do('PourBack', { gun: GUN, cup: FRESH })
    shop.at(40).do('ReadClimate', { zone: 'prep', airC: 30, rh: 0.5 })
    shop.do('MoveCup', { cup: FRESH, zone: 'prep' })
    // 40 of its 60 minutes are used; the rest runs twice as fast at 30 °C.
    expect(cupEndMin(shop, FRESH)).toBe(50)
  })

  test('brings the slower cure of another activator with it', () => {
    const shop = shopWith()
    const [slow, fast] = CLEAR.activators.map(({ name }) => name)
    mix(shop, CLEAR_CUP, CLEAR.sheet, { activator: slow })
    mix(shop, FRESH, CLEAR.sheet, { activator: fast })
    shop.do('LoadGun', { gun: GUN, cup: CLEAR_CUP })
    shop.at(5).do('PourBack', { gun: GUN, cup: FRESH })
    expect(mixesIn(cupOf(shop, FRESH)).map(({ activator }) => activator)).toEqual([fast, slow])
  })

  test('of a mix without pot life keeps as long as the older one', () => {
    const shop = vanWith([{ stage: 'base', sheet: BASE.sheet }])
    const keeps = cupOf(shop, BASE_CUP).keepUntilMs
    shop.do('LoadGun', { gun: GUN, cup: BASE_CUP })
    mix(shop.at(1_440), FRESH, BASE.sheet)
    expect(cupOf(shop, FRESH).keepUntilMs).toBeGreaterThan(keeps ?? 0)
    shop.do('PourBack', { gun: GUN, cup: FRESH })
    const { keepUntilMs, firstMixedAt, clocks } = cupOf(shop, FRESH)
    expect([keepUntilMs, firstMixedAt, clocks]).toEqual([keeps, minute(0), []])
  })

  test('taken back as a mistake leaves the cup as it was', () => {
    const shop = both()
    const [entry] = shop.at(40).do('PourBack', { gun: GUN, cup: FRESH, ml: 20 })
    shop.do('VoidEntry', { entry: entry?.id, reason: 'another cup' })
    expect([cupEndMin(shop, FRESH), cupOf(shop, FRESH).pouredMl]).toEqual([90, 0])
  })
})

describe('pouring back is refused', () => {
  test('from a gun with nothing in it', () => {
    const shop = vanWith(CLEAR_ONLY)
    const answer = refusalOf(shop.send('PourBack', { gun: GUN, cup: CLEAR_CUP }))
    expect([answer.code, answer.overridable]).toEqual(['gunEmpty', false])
    expect(answer.message).toBe('Gun gun-1 is empty: nothing can be poured back.')
    const rinsed = both()
    rinsed.do('RinseGun', { gun: GUN })
    expect(said(back(rinsed))).toBe('gunEmpty')
  })

  test('into another product or color', () => {
    const shop = both()
    mix(shop, 'GGGG2222', BASE.sheet)
    expect(said(shop.send('PourBack', { gun: GUN, cup: 'GGGG2222' }))).toBe('wrongProduct')
    const white = shopWith()
    mix(white, BASE_CUP, BASE.sheet, { colour: 'white' })
    mix(white, FRESH, BASE.sheet, { colour: 'red' })
    white.do('LoadGun', { gun: GUN, cup: BASE_CUP })
    const refusal = refusalOf(back(white))
    expect([refusal.code, refusal.overridable]).toEqual(['wrongColour', true])
    expect(said(back(white, { override: { reason: 'UNKNOWN' } }))).toBe('done')
  })

  test('past the time of what is in the gun, and not a millisecond before', () => {
    expect(around(both(), 60, back)).toEqual(['done', 'gunHolds'])
  })

  test('from a gun with two materials, into an emptied cup and into one that nobody knows', () => {
    const dirty = both()
    mix(dirty, 'GGGG2222', BASE.sheet)
    dirty.do('LoadGun', { gun: GUN, cup: 'GGGG2222', override: { reason: 'EQUIPMENT' } })
    expect(said(back(dirty))).toBe('gunHolds')
    const shop = both()
    expect(said(shop.send('PourBack', { gun: GUN, cup: 'HHHH2222' }))).toBe('cupUnknown')
    shop.do('EmptyCup', { cup: FRESH, how: 'discarded' })
    expect(said(back(shop))).toBe('cupEmptied')
  })

  test('never when it comes late: it is marked, and the cup has the clock all the same', () => {
    const shop = both().at(200)
    const [entry] = queued(shop, 61, 'PourBack', { gun: GUN, cup: FRESH })
    expect(outsideOf(entry)).toEqual(['gunHolds'])
    expect(cupEndMin(shop, FRESH)).toBe(60)
    const early = both().at(200)
    queued(early, 40, 'PourBack', { gun: GUN, cup: FRESH })
    expect(outsideOf(queued(early, 60, 'StartCoat', { panels: [DOOR], cup: FRESH })[0])).toEqual([
      'potLifeOver',
    ])
  })
})

describe('the card of a gun', () => {
  test('offers the cups of its product that are not over, its own first, and says which ends sooner', () => {
    const shop = both()
    mix(shop, 'GGGG2222', BASE.sheet)
    const [gun] = gunLines(shop.state)
    if (!gun) throw new Error('no gun')
    expect(backInto(shop.state, gun, minute(40))).toEqual([
      { id: CLEAR_CUP, soonerMs: null },
      { id: FRESH, soonerMs: minute(60) },
    ])
    expect(backInto(shop.state, gun, minute(60)).map(({ id }) => id)).toEqual([FRESH])
    shop.do('CleanGun', { gun: GUN })
    const [clean] = gunLines(shop.state)
    expect(clean && backInto(shop.state, clean, minute(40))).toEqual([])
  })

  test('of a job’s cup belongs to the job’s own history', () => {
    const shop = vanWith(CLEAR_ONLY)
    mix(shop, FRESH, CLEAR.sheet, { job: JOB })
    shop.do('LoadGun', { gun: GUN, cup: CLEAR_CUP })
    const [entry] = shop.at(5).do('PourBack', { gun: GUN, cup: FRESH })
    expect([entry?.job, entry?.cup, entry?.gun]).toEqual([JOB, FRESH, GUN])
    coat(shop, FRESH, 6, 7)
  })
})
