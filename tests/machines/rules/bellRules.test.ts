import { describe, expect, test } from 'vitest'
import { bellRules, USUAL_RULES } from '../../../machines/bell/rules.ts'
import { parseCommand } from '../../../machines/contract.ts'
import { mostRiseDb } from '../../../machines/devices/level.ts'
import { openHours } from '../../../machines/shop/hours.ts'
import { settingsOf } from '../../../machines/shop/settings.ts'
import { saidWrong } from '../../support/said.ts'
import { Shop } from '../../support/shop.ts'

describe('how bells rise', () => {
  test('is as usual where the shop has set nothing', () => {
    const { isOpen, ...rules } = bellRules(new Shop().state)
    const { isOpen: _, ...usual } = USUAL_RULES
    expect(rules).toEqual(usual)
    expect(rules).toEqual({ escalateMs: [60_000, 180_000], riseDb: 5, mostRiseDb: Infinity })
    expect(isOpen(0)).toBe(true)
  })

  test('is what the shop has set, one thing without the other', () => {
    const shop = new Shop()
    shop.do('ChangeSettings', { bells: { escalateAfterS: { first: 30, second: 90 } } })
    expect(bellRules(shop.state)).toMatchObject({ escalateMs: [30_000, 90_000], riseDb: 5 })
    shop.do('ChangeSettings', { bells: { riseDb: 3 } })
    expect(bellRules(shop.state)).toMatchObject({ escalateMs: [30_000, 90_000], riseDb: 3 })
    expect(settingsOf(shop.state).bells).toEqual({
      escalateAfterS: { first: 30, second: 90 },
      riseDb: 3,
    })
  })

  const message = (bells: object): string => {
    const parsed = parseCommand({ id: 'c1', type: 'ChangeSettings', data: { bells } })
    return parsed.ok ? 'taken' : saidWrong(parsed.error).message
  }
  test.each([
    [{ riseDb: 5 }, 'taken'],
    [{ riseDb: 5.1 }, "data.bells.riseDb: 5.1 won't work. Use a number from 0 to 5 dB."],
    [{ riseDb: -1 }, "data.bells.riseDb: -1 won't work. Use a number from 0 to 5 dB."],
    [{ escalateAfterS: { first: 20, second: 30 } }, 'taken'],
    [
      { escalateAfterS: { first: 19, second: 60 } },
      "data.bells.escalateAfterS.first: 19 won't work. Use a whole number from 20 to 1800 s.",
    ],
    [
      { escalateAfterS: { first: 60, second: 60 } },
      "data.bells.escalateAfterS.second: 60 won't work. Use more seconds than the first.",
    ],
    [
      { escalateAfterS: { first: 60, second: 3_601 } },
      "data.bells.escalateAfterS.second: 3601 won't work. Use a whole number from 30 to 3600 s.",
    ],
  ])('%j: %s', (bells, said) => {
    expect(message(bells)).toBe(said)
  })

  // The cap: 100 dB(A) at any ear, 90 without the site's word.
  test('never goes above the cap of the loudest place', () => {
    const at = (signalDb: number, siteSignedOff = false) => ({
      ...{ place: `at ${signalDb}`, ambientDb: 70, signalDb, siteSignedOff },
    })
    expect(mostRiseDb([])).toBe(Infinity)
    expect(mostRiseDb([at(80)])).toBe(10)
    expect(mostRiseDb([at(80), at(87)])).toBe(3)
    expect(mostRiseDb([at(90)])).toBe(0)
    expect(mostRiseDb([at(94, true)])).toBe(6)
    expect(mostRiseDb([at(100, true)])).toBe(0)
    const shop = new Shop()
    shop.do('CommissionLevel', { place: 'Bench', ambientDb: 70, signalDb: 86 })
    expect(bellRules(shop.state).mostRiseDb).toBe(4)
  })
})

describe('the hours of a shop', () => {
  const isOpen = (settings: Parameters<typeof openHours>[0], at: string) =>
    openHours(settings)?.(Date.parse(at))
  const day = { opensAt: '07:30', closesAt: '17:00' }
  const night = { opensAt: '22:00', closesAt: '06:00' }

  test('are not known where none are set', () => {
    expect(openHours({ timeZone: 'UTC' })).toBeNull()
  })

  test.each([
    ['2026-01-05T06:29:59Z', false],
    ['2026-01-05T06:30:00Z', true],
    ['2026-01-05T15:59:59Z', true],
    ['2026-01-05T16:00:00Z', false],
  ])('are those of its zone, the first minute in and the last out: %s', (at, is) => {
    expect(isOpen({ hours: day, timeZone: 'Europe/Madrid' }, at)).toBe(is)
  })

  // IANA time zone data: Madrid goes from UTC+1 to +2 on 29 March 2026 and back on 25 October, at 01:00 UTC.
  test.each([
    ['the day before summer time', '2026-03-28T06:30:00Z', '2026-03-28T06:29:00Z'],
    ['the day on which it begins', '2026-03-29T05:30:00Z', '2026-03-29T05:29:00Z'],
    ['the day before it ends', '2026-10-24T05:30:00Z', '2026-10-24T05:29:00Z'],
    ['the day on which it ends', '2026-10-25T06:30:00Z', '2026-10-25T06:29:00Z'],
  ])('open by the clock on the wall, %s', (_, open, closed) => {
    const settings = { hours: day, timeZone: 'Europe/Madrid' }
    expect([isOpen(settings, open), isOpen(settings, closed)]).toEqual([true, false])
  })

  test.each([
    ['2026-01-05T21:59:00Z', false],
    ['2026-01-05T22:00:00Z', true],
    ['2026-01-06T00:00:00Z', true],
    ['2026-01-06T05:59:00Z', true],
    ['2026-01-06T06:00:00Z', false],
  ])('may go over midnight: %s', (at, is) => {
    expect(isOpen({ hours: night, timeZone: 'UTC' }, at)).toBe(is)
  })

  test('over midnight and the end of summer time at once: the hour that comes twice is open twice', () => {
    const settings = { hours: { opensAt: '23:00', closesAt: '03:00' }, timeZone: 'Europe/Madrid' }
    const hours = ['T20:59', 'T21:00', 'T00:30', 'T01:30', 'T01:59'].map((t, n) =>
      isOpen(settings, `2026-10-2${n < 2 ? 4 : 5}${t}:00Z`),
    )
    expect(hours).toEqual([false, true, true, true, true])
    expect(isOpen(settings, '2026-10-25T02:00:00Z')).toBe(false)
  })
})
