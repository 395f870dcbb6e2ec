import { describe, expect, test } from 'vitest'
import { addPanel, CLEAR_CUP, CLEAR_ONLY, DOOR, mix, said, shopWith } from '../../support/given.ts'
import { CLEAR } from '../../support/sheets.ts'
import type { Shop } from '../../support/shop.ts'

/**
 * A time may be typed ten minutes back freely, further with a reason, over twelve hours by a lead, or by
 * anyone while the shop has none. Being recorded late has no limit.
 */

const HOUR = 60
const MS = 1 / 60_000
const NEXT_DAY = 24 * HOUR

function shop({ lead = true } = {}): Shop {
  const van = mix(addPanel(shopWith(), CLEAR_ONLY), CLEAR_CUP, CLEAR.sheet)
  van.do('AddPerson', { person: 'ana', name: 'A. Painter', role: 'painter' })
  if (lead) van.do('AddPerson', { person: 'ben', name: 'B. Lead', role: 'lead' })
  return van.at(NEXT_DAY)
}
const reason = 'forgotten yesterday'
/** A reading of the air that is typed in so many minutes after it was read. */
const typed = (of: Shop, backMin: number, by?: string) =>
  of.send(
    'ReadClimate',
    { zone: 'booth', airC: 21, rh: 0.5 },
    { at: of.now - backMin * 60_000, reason, ...(by ? { by } : {}) },
  )

describe('a time that is typed far back', () => {
  test('is anybody’s up to twelve hours, and a lead’s beyond', () => {
    const at = (backMin: number, by?: string) => said(typed(shop().fork(), backMin, by))
    expect([at(12 * HOUR, 'ana'), at(12 * HOUR + MS, 'ana')]).toEqual(['done', 'by'])
    expect([at(13 * HOUR), at(13 * HOUR, 'ben')]).toEqual(['by', 'done'])
    const answer = typed(shop(), 13 * HOUR, 'ana')
    expect('error' in answer && answer.error.message).toMatch(/lead.*more than 12 h before/)
  })

  test('is anybody’s while the shop has no lead, also where the lead has left', () => {
    expect(said(typed(shop({ lead: false }), 13 * HOUR, 'ana'))).toBe('done')
    const left = shop()
    left.do('RetirePerson', { person: 'ben' })
    expect(said(typed(left, 13 * HOUR, 'ana'))).toBe('done')
  })

  test('counts from a start that is typed beside a finish', () => {
    const finish = (by: string) => {
      const van = shop()
      const data = { panels: [DOOR], cup: CLEAR_CUP, startedAt: van.now - 13 * HOUR * 60_000 }
      return said(van.send('FinishCoat', data, { by, reason }))
    }
    expect([finish('ana'), finish('ben')]).toEqual(['by', 'done'])
  })

  test('a lead of today may type what was before his first day', () => {
    const van = shop({ lead: false })
    van.do('AddPerson', { person: 'ben', name: 'B. Lead', role: 'lead' })
    expect([said(typed(van.fork(), 13 * HOUR, 'ana')), said(typed(van, 13 * HOUR, 'ben'))]).toEqual(
      ['by', 'done'],
    )
  })

  test('is not what a kiosk kept while its server was away: that was entered at once', () => {
    const van = shop()
    const at = van.now - 20 * HOUR * 60_000
    const sent = van.send(
      'ReadClimate',
      { zone: 'booth', airC: 21, rh: 0.5 },
      { at, enteredAt: at },
    )
    expect(said(sent)).toBe('done')
  })
})
