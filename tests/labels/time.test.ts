import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { encodeCupCode } from '../../labels/code.ts'
import { type ClockStyle, clockText } from '../../labels/time.ts'
import { anyStyle, CHICAGO, CLEAR, days, MADRID, minutes } from '../support/labelSamples.ts'

const utc = (text: string) => Date.parse(`${text}Z`)
const at = (text: string, style: ClockStyle) => clockText(utc(text), style)

describe('a clock time on a label', () => {
  test('is the shop’s, by its own clock and language', () => {
    expect(at('2026-11-25T14:05', MADRID)).toMatchObject({
      time: '15:05',
      half: '',
      weekday: 'WED',
    })
    expect(at('2026-11-25T14:05', CHICAGO)).toMatchObject({ time: '8:05', half: 'AM' })
    expect(at('2026-11-25T14:05', { ...MADRID, language: 'es' })).toMatchObject({
      time: '15:05',
      weekday: 'MIÉ',
      date: '25 NOV',
      year: '2026',
    })
  })

  test('noon and midnight by the 12 h clock', () => {
    expect(at('2026-11-25T18:00', CHICAGO)).toMatchObject({ time: '12:00', half: 'PM' })
    expect(at('2026-11-25T06:00', CHICAGO)).toMatchObject({
      time: '12:00',
      half: 'AM',
      weekday: 'WED',
    })
    expect(at('2026-11-25T05:59', CHICAGO)).toMatchObject({
      time: '11:59',
      half: 'PM',
      weekday: 'TUE',
    })
    expect(at('2026-11-24T23:00', MADRID)).toMatchObject({ time: '00:00', weekday: 'WED' })
  })

  test('is cut to the minute, never rounded up', () => {
    expect(at('2026-11-25T14:05:59.999', MADRID).time).toBe('15:05')
  })

  test('has the days of the week and the months in English and Spanish', () => {
    const week = Array.from({ length: 7 }, (_, n) => utc('2026-11-23T12:00') + days(n))
    const weekdays = (style: ClockStyle) => week.map((ms) => clockText(ms, style).weekday).join(' ')
    expect(weekdays(MADRID)).toBe('MON TUE WED THU FRI SAT SUN')
    expect(weekdays({ ...MADRID, language: 'es' })).toBe('LUN MAR MIÉ JUE VIE SÁB DOM')
    const months = Array.from({ length: 12 }, (_, n) => Date.UTC(2026, n, 9, 12))
    expect(months.map((ms) => clockText(ms, MADRID).date.slice(2)).join(' ')).toBe(
      'JAN FEB MAR APR MAY JUN JUL AUG SEP OCT NOV DEC',
    )
    const spanish = months.map((ms) =>
      clockText(ms, { ...MADRID, language: 'es' }).date.slice(2, 5),
    )
    expect(spanish.join(' ')).toBe('ENE FEB MAR ABR MAY JUN JUL AGO SEP OCT NOV DIC')
  })

  test('an unknown zone is an error, not another time', () => {
    expect(() => at('2026-11-25T14:05', { ...MADRID, timeZone: 'Europe/Nowhere' })).toThrow(
      RangeError,
    )
  })
})

// Dates of the changes: IANA time zone database, as the runtime carries it.
describe('summer time', () => {
  test('in spring 45 min of pot life end at 3:15 by the clock', () => {
    const newYork = { ...CHICAGO, timeZone: 'America/New_York' }
    expect(at('2026-03-08T06:30', newYork)).toMatchObject({ time: '1:30', half: 'AM', zone: '' })
    expect(at('2026-03-08T07:15', newYork)).toMatchObject({ time: '3:15', half: 'AM', zone: '' })
    expect(at('2026-03-29T01:15', MADRID)).toMatchObject({ time: '03:15', zone: '' })
  })

  test('in the hour that comes twice the zone’s name tells which one is meant', () => {
    const first = at('2026-11-01T06:30', CHICAGO)
    const second = at('2026-11-01T07:30', CHICAGO)
    expect([first.time, second.time]).toEqual(['1:30', '1:30'])
    expect([first.zone, second.zone]).toEqual(['CDT', 'CST'])
    expect(at('2026-11-01T05:59', CHICAGO).zone).toBe('')
    expect(at('2026-11-01T08:00', CHICAGO).zone).toBe('')
    const madrid = [at('2026-10-25T00:30', MADRID), at('2026-10-25T01:30', MADRID)]
    expect(madrid.map((clock) => clock.time)).toEqual(['02:30', '02:30'])
    expect(new Set(madrid.map((clock) => clock.zone)).size).toBe(2)
  })

  test('on Lord Howe Island it is half an hour that comes twice', () => {
    const island = { ...MADRID, timeZone: 'Australia/Lord_Howe' }
    const clocks = ['2026-04-04T14:35', '2026-04-04T15:05'].map((text) => at(text, island))
    expect(clocks.map((clock) => clock.time)).toEqual(['01:35', '01:35'])
    expect(new Set(clocks.map((clock) => clock.zone)).size).toBe(2)
    expect(at('2026-04-04T14:25', island).zone).toBe('')
  })

  test('two moments within a day are never written alike', () => {
    const start = fc.integer({
      min: utc('2026-01-01T00:00') / 60_000,
      max: utc('2028-01-01T00:00') / 60_000,
    })
    const clockOf = (minute: number, style: ClockStyle) => {
      const { time, half, zone, weekday } = clockText(minutes(minute), style)
      return [time, half, weekday, zone].join(' ')
    }
    const changes = ['2026-10-25T00:00', '2026-11-01T05:30', '2026-04-04T13:45']
    const minute = fc.oneof(
      start,
      ...changes.map((text) =>
        fc.integer({ min: utc(text) / 60_000, max: utc(text) / 60_000 + 180 }),
      ),
    )
    fc.assert(
      fc.property(minute, fc.integer({ min: 1, max: 1439 }), anyStyle, (from, later, style) => {
        expect(clockOf(from, style)).not.toBe(clockOf(from + later, style))
      }),
      { numRuns: 500 },
    )
  })

  test('no change of the clocks alters a pot life', () => {
    const across = {
      ...CLEAR,
      mixedAtMs: utc('2026-03-08T06:30'),
      useByMs: utc('2026-03-08T07:15'),
    }
    expect(encodeCupCode(across)).toContain('-45-')
  })
})
