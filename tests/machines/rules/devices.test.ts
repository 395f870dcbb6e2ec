import { describe, expect, test } from 'vitest'
import { devicesOf } from '../../../machines/devices/fold.ts'
import { levelVerdict } from '../../../machines/devices/level.ts'
import { evict } from '../../../machines/evict.ts'
import { shopWith } from '../../support/given.ts'
import { minute, Shop } from '../../support/shop.ts'

/** What is known of kiosks: levels, sound tests, a display that went dark. */

const DOOR = { place: 'Booth door', ambientDb: 72, signalDb: 85 }
const level = (more: object = {}, shop = new Shop()): Shop => {
  shop.do('CommissionLevel', { ...DOOR, ...more })
  return shop
}
const wrong = (more: object): string => {
  try {
    level(more)
  } catch (error) {
    return String(error)
  }
  return 'was taken'
}

describe('a commissioned level', () => {
  test.each([
    // The limits of a level themselves, and just beside them.
    [
      { ambientDb: 70, signalDb: 80 },
      { passes: true, reachesTarget: false, overDb: 10 },
    ],
    [
      { ambientDb: 70, signalDb: 79.9 },
      { passes: false, reachesTarget: false },
    ],
    [
      { ambientDb: 70, signalDb: 85 },
      { passes: true, reachesTarget: true, overDb: 15 },
    ],
    [
      { ambientDb: 78, signalDb: 80, thirdOctaveDb: 13 },
      { passes: true, reachesTarget: false },
    ],
    [
      { ambientDb: 78, signalDb: 80, thirdOctaveDb: 12.9 },
      { passes: false, overDb: 2 },
    ],
    // Quieter than what it is to be heard over.
    [
      { ambientDb: 90, signalDb: 80 },
      { passes: false, overDb: -10 },
    ],
  ])('of %j is %j', (given, verdict) => {
    expect(levelVerdict({ place: 'bench', ...given })).toMatchObject(verdict)
  })

  test('says in its entry whether it passed, when, and by whom', () => {
    const shop = new Shop()
    shop.do('AddPerson', { person: 'lead-2', name: 'Lead Two', role: 'lead' })
    const drafts = shop.at(5).do('CommissionLevel', DOOR, { by: 'lead-2' })
    expect(drafts).toMatchObject([
      { type: 'LevelCommissioned', at: minute(5), by: 'lead-2', data: { ...DOOR, passed: true } },
    ])
    expect(shop.do('CommissionLevel', { ...DOOR, signalDb: 75 })[0]?.data).toMatchObject({
      passed: false,
    })
  })

  test('above 100 dB(A) at any ear is not taken, passed or not', () => {
    expect(wrong({ signalDb: 100.1, siteSignedOff: true })).toContain(
      "data.signalDb: 100.1 won't work. Use a number from 20 to 100 dB(A)",
    )
    expect(wrong({ signalDb: 100, siteSignedOff: true })).toBe('was taken')
  })

  test('above 90 dB(A) needs the site’s approval', () => {
    const sentence = 'data.siteSignedOff is missing. Use true above 90 dB(A)'
    expect(wrong({ signalDb: 90.1 })).toContain(sentence)
    expect(wrong({ signalDb: 95, siteSignedOff: false })).toContain(
      "data.siteSignedOff: false won't work. Use true above 90 dB(A)",
    )
    expect(wrong({ signalDb: 95, siteSignedOff: true })).toBe('was taken')
    expect(wrong({ signalDb: 90 })).toBe('was taken')
  })

  test('is the newest of its place, however late an older one arrives', () => {
    const shop = level({ signalDb: 90 }, new Shop().at(8))
    level({ place: 'Bench' }, shop.at(9))
    shop.do('CommissionLevel', { ...DOOR, signalDb: 82 }, { at: minute(3), enteredAt: minute(9) })
    expect(devicesOf(shop.state).levels).toMatchObject([
      { place: 'Booth door', signalDb: 90, at: minute(8) },
      { place: 'Bench', signalDb: 85 },
    ])
  })

  test('that was a mistake is replaced by the one before', () => {
    const shop = level({ signalDb: 90 }, level().at(1))
    shop.do('VoidEntry', { entry: shop.entries.at(-1)?.id, reason: 'Wrong place' })
    expect(devicesOf(shop.state).levels).toMatchObject([{ signalDb: 85 }])
  })
})

describe('a sound test', () => {
  test('can be voided: the one before counts again', () => {
    const shop = new Shop()
    shop.do('TestSound', { pattern: 'B2', heard: true, place: 'Bench' })
    const [slip] = shop.at(1).do('TestSound', { pattern: 'B2', heard: false, place: 'Bench' })
    expect(devicesOf(shop.state).tests).toMatchObject([{ pattern: 'B2', heard: false }])
    shop.do('VoidEntry', { entry: slip?.id, reason: 'MISTAP' })
    expect(devicesOf(shop.state).tests).toMatchObject([{ pattern: 'B2', heard: true }])
  })

  test('is evicted after two days, and a level never', () => {
    const shop = level()
    shop.do('TestSound', { pattern: 'A', heard: true })
    shop.do('ReportSleep', { why: 'lost' })
    const later = evict(shop.state, minute(48 * 60 + 1))
    expect(devicesOf(later)).toMatchObject({ levels: [DOOR], tests: [], slept: [] })
    expect(later.things.devices.shop?.entries.map((e) => e.type)).toEqual(['LevelCommissioned'])
  })

  test('a level that was a mistake stays one when the days before are evicted', () => {
    const shop = level()
    shop.do('VoidEntry', { entry: shop.entries.at(-1)?.id, reason: 'Wrong place' })
    shop.do('TestSound', { pattern: 'A', heard: true })
    shop.state = evict(shop.state, minute(72 * 60))
    level({ place: 'Bench' }, shop.at(72 * 60))
    // Told late, so that all that is left is folded again.
    shop.at(72 * 60 + 5).do('TestSound', { pattern: 'D', heard: true }, { at: minute(72 * 60 - 4) })
    expect(devicesOf(shop.state).levels.map(({ place }) => place)).toEqual(['Bench'])
  })
})

test('a zone whose name was a mistake does not get it back when older readings are evicted', () => {
  const shop = shopWith()
  shop.do('SaveZone', { zone: 'booth', name: 'Boot' })
  shop.do('VoidEntry', { entry: shop.entries.at(-1)?.id, reason: 'MISTAP' })
  for (const hour of [0, 1, 40, 41])
    shop.at(hour * 60).do('ReadClimate', { zone: 'booth', airC: 20 + hour / 10, rh: 0.5 })
  shop.state = evict(shop.state, shop.now)
  shop
    .at(41 * 60 + 8)
    .do('ReadClimate', { zone: 'booth', airC: 18, rh: 0.5 }, { at: shop.now - 60_000 })
  expect(shop.state.things.zone.booth?.context).toMatchObject({ spec: null })
})

describe('a display that may go dark while a timer runs', () => {
  const slept = (shop: Shop) => shop.entries.filter(({ type }) => type === 'ScreenSlept')
  const say = (shop: Shop, min: number, device = 'kiosk-1', extra: object = {}) =>
    shop.at(min).do('ReportSleep', { why: 'lost' }, { device, seq: min, ...extra })

  test('is logged at most once in ten minutes for each kiosk', () => {
    const shop = new Shop()
    expect(say(shop, 0)).toMatchObject([{ type: 'ScreenSlept', data: { why: 'lost' } }])
    expect(say(shop, 5)).toEqual([])
    expect(say(shop, 9, 'kiosk-2')).toHaveLength(1)
    expect(say(shop, 10)).toHaveLength(1)
    expect(slept(shop).map(({ device }) => device)).toEqual(['kiosk-1', 'kiosk-2', 'kiosk-1'])
  })

  test('also where the kiosk had no server then, and reports it late', () => {
    const shop = new Shop()
    say(shop, 30)
    expect(say(shop, 31, 'kiosk-1', { at: minute(25), enteredAt: minute(25) })).toEqual([])
    expect(say(shop, 32, 'kiosk-1', { at: minute(15), enteredAt: minute(15) })).toHaveLength(1)
  })
})
