import fc from 'fast-check'
import { expect, test } from 'vitest'
import { formatOf } from '../../kiosk/units/format.ts'
import { clockSpan } from '../../server/clockSpan.ts'

/** Times on a kiosk without Intl's rules of time zones, held against Intl. */

const HOUR = 3_600_000
const zones = Intl.supportedValuesOf('timeZone')

test('what a server says of the shop’s clocks gives the times that Intl gives, in any zone and season', () => {
  expect(zones.length).toBeGreaterThan(300)
  const instants = fc.integer({ min: Date.UTC(2016, 0, 1), max: Date.UTC(2036, 11, 31) })
  const aside = fc.integer({ min: -50 * HOUR, max: 60 * HOUR })
  fc.assert(
    fc.property(
      fc.constantFrom(...zones),
      instants,
      fc.array(aside, { minLength: 4, maxLength: 4 }),
      fc.constantFrom('12h' as const, '24h' as const),
      (timeZone, now, asides, clock) => {
        const settings = { timeZone, clock }
        const [told, own] = [formatOf(settings, clockSpan(timeZone, now)), formatOf(settings)]
        for (const ms of [0, ...asides].map((by) => now + by)) {
          expect(told.time(ms)).toBe(own.time(ms))
          expect(told.timeAndDay(ms, now)).toBe(own.timeAndDay(ms, now))
        }
      },
    ),
    { numRuns: 300 },
  )
})

/** The European Union's clocks go back on 25 October 2026 at 01:00 UTC (Directive 2000/84/EC, article 3). */
const BACK = Date.UTC(2026, 9, 25, 1)

test('about a change of the clocks the server says nothing', () => {
  expect(clockSpan('Europe/Madrid', BACK - 60 * HOUR)?.aheadMs).toBe(2 * HOUR)
  expect(clockSpan('Europe/Madrid', BACK + 40 * HOUR)?.aheadMs).toBe(HOUR)
  for (const by of [-47, -1, 0, 1, 35])
    expect(clockSpan('Europe/Madrid', BACK + by * HOUR)).toBeNull()
  expect(clockSpan(undefined, BACK)).toBeNull()
  expect(clockSpan('Moon/Tycho', BACK)).toBeNull()
})

test('a page that stays open over the change follows it', () => {
  const settings = { timeZone: 'Europe/Madrid' }
  const long = formatOf(settings, clockSpan('Europe/Madrid', BACK - 60 * HOUR))
  expect(long.time(BACK - 60 * HOUR)).toBe('15:00')
  expect([long.time(BACK - 1), long.time(BACK)]).toEqual(['02:59', '02:00'])
  expect(long.time(BACK + 200 * HOUR)).toBe('10:00')
})

test('a shop that moves to another zone is not shown by the clocks of the last one', () => {
  const madrid = clockSpan('Europe/Madrid', BACK - 60 * HOUR)
  expect(formatOf({ timeZone: 'America/Chicago' }, madrid).time(BACK - 60 * HOUR)).toBe('08:00')
})

test('numbers and twelve hours are written as Intl writes them', () => {
  const numbers = fc.double({ min: -1e7, max: 1e7, noNaN: true })
  fc.assert(
    fc.property(numbers, fc.constantFrom('en' as const, 'es' as const), (value, language) => {
      // Without the sign of zero.
      const step = Math.round(value / 0.1) * 0.1 + 0
      const locale = language === 'es' ? 'es-MX' : 'en-GB'
      const exactly = { minimumFractionDigits: 1, maximumFractionDigits: 1 }
      const byIntl = new Intl.NumberFormat(locale, exactly).format(step)
      expect(formatOf({ language }).number(value, 1)).toBe(byIntl)
    }),
  )
  const how = { hour: 'numeric', minute: '2-digit', hour12: true, timeZone: 'UTC' } as const
  const byIntl = new Intl.DateTimeFormat('en-US', how)
  const f = formatOf({ timeZone: 'UTC', clock: '12h' })
  for (let minute = 0; minute < 1_440; minute += 1) {
    const ms = Date.UTC(2026, 0, 5, 0, minute)
    expect(f.time(ms)).toBe(byIntl.format(ms).replace('\u202f', ' '))
  }
})
