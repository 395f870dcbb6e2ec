import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { closingOf, opensNextAt } from '../../../machines/plan/closing.ts'
import { BASE, CLEAR } from '../../support/sheets.ts'
import { MINUTE, minute, Shop } from '../../support/shop.ts'

const JOB = 'VANREAR2'
const DOOR = 'SDEDR222'
const CUP = 'K7QDM2XV'
const HOURS = { opensAt: '07:30', closesAt: '18:00' }

function vanShop(): Shop {
  const shop = new Shop()
  for (const sheet of [BASE, CLEAR]) shop.do('SaveSheet', { sheet })
  shop.do('OpenJob', { job: JOB, title: 'Delivery van' })
  const route = [
    { stage: 'clear', sheet: CLEAR.sheet },
    { stage: 'cure', sheet: CLEAR.sheet },
  ]
  shop.do('AddPanel', { job: JOB, panel: DOOR, name: 'Sliding door', operation: 'repair', route })
  return shop
}

describe('before the shop is left', () => {
  test('nothing is left to do in an empty shop', () => {
    expect(closingOf(vanShop().state, minute(900))).toEqual({
      cups: [],
      guns: [],
      windows: [],
      running: [],
    })
  })

  test('cups with a pot life, loaded guns, a coat that was never finished', () => {
    const shop = vanShop()
    shop.do('SaveGun', { gun: 'gun-1', name: 'Clear gun' })
    shop.do('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 300, activator: 'standard' })
    shop.do('MixCup', { cup: 'BASE3W9K', sheet: BASE.sheet, totalMl: 300 })
    shop.do('StartCoat', { panels: [DOOR], cup: CUP, gun: 'gun-1' })
    const { cups, guns, running, windows } = closingOf(shop.state, minute(900))
    // The base keeps for a month: it is not among them.
    expect(cups.map(({ id, endsAt }) => [id, endsAt])).toEqual([[CUP, minute(60)]])
    expect(guns).toEqual([
      { id: 'gun-1', name: 'Clear gun', holds: CLEAR.name, endsAt: minute(60) },
    ])
    expect(running).toEqual([
      { panel: DOOR, name: 'Sliding door', job: JOB, what: 'coat', endsAt: null },
    ])
    expect(windows).toEqual([])
    shop.do('EmptyCup', { cup: CUP, how: 'discarded' })
    shop.do('CleanGun', { gun: 'gun-1' })
    expect(closingOf(shop.state, minute(900))).toMatchObject({ cups: [], guns: [] })
  })

  test('windows that shut before the shop opens again, and no later ones', () => {
    const shop = vanShop()
    shop.do('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 300, activator: 'standard' })
    shop.do('StartCoat', { panels: [DOOR], cup: CUP })
    shop.at(2).do('FinishCoat', { panels: [DOOR] })
    // The sheet's recoat window: 480 min from the finish.
    const shutsAt = minute(2 + 480)
    const asked = (untilMs: number) => closingOf(shop.state, untilMs).windows
    expect(asked(shutsAt - 1)).toEqual([])
    expect(asked(shutsAt)).toEqual([{ panel: DOOR, name: 'Sliding door', job: JOB, shutsAt }])
    shop.do('CloseJob', { job: JOB, override: { reason: 'CUSTOMER_CHANGE' } })
    expect(asked(shutsAt)).toEqual([])
  })

  test('a cure that goes on, with its end', () => {
    const shop = vanShop()
    shop.do('MixCup', { cup: CUP, sheet: CLEAR.sheet, totalMl: 300, activator: 'standard' })
    for (const at of [0, 20]) {
      shop.at(at).do('StartCoat', { panels: [DOOR], cup: CUP })
      shop.at(at + 2).do('FinishCoat', { panels: [DOOR] })
    }
    shop.at(30).do('StartCure', { panels: [DOOR], mode: 'air' })
    expect(closingOf(shop.state, minute(900)).running).toEqual([
      { panel: DOOR, name: 'Sliding door', job: JOB, what: 'cure', endsAt: minute(30 + 720) },
    ])
  })
})

describe('the shop opens next', () => {
  const at = (utc: string) => Date.parse(utc)
  const next = (utc: string, timeZone?: string) =>
    opensNextAt({ hours: HOURS, ...(timeZone ? { timeZone } : {}) }, at(utc))

  test('nowhere, where it has set no hours', () => {
    expect(opensNextAt({}, at('2026-01-05T18:00Z'))).toBeNull()
  })

  test('tomorrow in the evening, today in the night, tomorrow at the very minute', () => {
    expect(next('2026-01-05T18:10:30Z', 'UTC')).toBe(at('2026-01-06T07:30Z'))
    expect(next('2026-01-06T03:00Z', 'UTC')).toBe(at('2026-01-06T07:30Z'))
    expect(next('2026-01-06T07:30:10Z', 'UTC')).toBe(at('2026-01-07T07:30Z'))
  })

  test('by the shop’s own clock, also over a night in which clocks change', () => {
    // Europe/Madrid is UTC+1 in winter; it changed on 2026-03-29 and 2026-10-25 (IANA tz database).
    expect(next('2026-01-05T18:10Z', 'Europe/Madrid')).toBe(at('2026-01-06T06:30Z'))
    expect(next('2026-03-28T18:00Z', 'Europe/Madrid')).toBe(at('2026-03-29T05:30Z'))
    expect(next('2026-10-24T18:00Z', 'Europe/Madrid')).toBe(at('2026-10-25T06:30Z'))
  })

  test('after now, within a day and an hour, when its clock shows the hour', () => {
    const zones = fc.constantFrom('UTC', 'Europe/Madrid', 'America/St_Johns', 'Asia/Kathmandu')
    const instants = fc.integer({ min: at('2025-01-01T00:00Z'), max: at('2028-01-01T00:00Z') })
    fc.assert(
      fc.property(zones, instants, (timeZone, now) => {
        const opens = opensNextAt({ hours: HOURS, timeZone }, now) ?? 0
        expect(opens).toBeGreaterThan(now)
        expect(opens - now).toBeLessThanOrEqual(25 * 60 * MINUTE)
        const shown = new Date(opens).toLocaleTimeString('en-GB', { timeZone })
        expect(shown).toBe('07:30:00')
      }),
    )
  })
})
