import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { isFound, jobQuery, searchText } from '../../../machines/job/search.ts'
import { dayNumber, mondayOf, numberOfDay, startOfDay } from '../../../machines/shop/calendar.ts'

const DAY_MS = 86_400_000
const at = (iso: string) => Date.parse(iso)
const NOW = at('2026-11-29T09:00:00Z')
const text = searchText([
  'VANJAB22',
  'Delivery van, rear corner',
  'white, AB-12 CDÉ',
  'Left rear door',
])
const finds = (typed: string, openedAt = NOW, lastAt = NOW) =>
  isFound({ text, openedAt, lastAt }, jobQuery(typed, NOW, 'Europe/Madrid'))

describe('a job is found', () => {
  test.each([
    ['ab12cde', 'a plate as it is spoken'],
    ['AB 12', 'a part of a plate'],
    ['12-cd', 'from the middle of a plate'],
    ['van white', 'words of two fields, in any order'],
    ['white van', 'the other way round'],
    ['DOOR', 'a panel, in capitals'],
    ['vanjab22', 'its number'],
    ['', 'nothing typed'],
    ['  .  ', 'signs alone'],
  ])('by %o: %s', (typed) => {
    expect(finds(typed)).toBe(true)
  })

  test('not where one word of several is missing, nor across two fields', () => {
    expect(finds('van red')).toBe(false)
    expect(finds('cornerwhite')).toBe(false)
  })
})

describe('a job is found by when it was', () => {
  const november = at('2026-11-25T10:00:00Z')

  test.each(['week 48', 'Week48', 'w48', '2026-W48', '2026w48', 'semana 48', 'van week 48'])(
    '%s',
    (typed) => {
      expect(finds(typed, november, november)).toBe(true)
      expect(finds(typed, november - 7 * DAY_MS, november - 7 * DAY_MS)).toBe(false)
    },
  )

  test('a week without its year is the last one that has begun', () => {
    const lastYear = at('2025-12-03T10:00:00Z')
    expect(finds('week 49', lastYear, lastYear)).toBe(true)
    expect(finds('week 49', at('2026-12-01T10:00:00Z'), at('2026-12-01T10:00:00Z'))).toBe(false)
  })

  test('a month, a day, and a job that lasted over it', () => {
    expect(finds('2026-11', november, november)).toBe(true)
    expect(finds('2026-11-25', november, november)).toBe(true)
    expect(finds('2026-11-24', november, november)).toBe(false)
    expect(finds('2026-11-24', november - 30 * DAY_MS, november)).toBe(true)
    expect(finds('2026-12', november - 30 * DAY_MS, november)).toBe(false)
  })

  test('by the clocks of the shop: its midnight is another instant than that of UTC', () => {
    const { within } = jobQuery('2026-07-01', NOW, 'America/Denver')
    expect(within).toEqual({ fromMs: at('2026-07-01T06:00Z'), toMs: at('2026-07-02T06:00Z') })
  })

  test.each(['2026-13', '2026-02-31', '2026-11-00', 'week 54', 'week 0'])(
    '%s is no date: it is looked for as a word',
    (typed) => {
      expect(jobQuery(typed, NOW, 'Europe/Madrid')).toMatchObject({ within: null })
      expect(finds(typed)).toBe(false)
    },
  )
})

describe('the calendar', () => {
  test('days are numbered as the engine numbers them', () => {
    fc.assert(
      fc.property(fc.integer({ min: -200_000, max: 200_000 }), (day) => {
        const iso = new Date(day * DAY_MS)
        expect(dayNumber(iso.getUTCFullYear(), iso.getUTCMonth() + 1, iso.getUTCDate())).toBe(day)
      }),
    )
  })

  // ISO 8601-1:2019, the examples of weeks at the turn of a year that its explanations commonly give; from memory.
  test.each([
    [2004, 53, '2004-12-27'],
    [2005, 52, '2005-12-26'],
    [2007, 1, '2007-01-01'],
    [2008, 1, '2007-12-31'],
    [2009, 1, '2008-12-29'],
    [2009, 53, '2009-12-28'],
    [2026, 48, '2026-11-23'],
  ])('week %i-W%i begins on %s', (year, week, monday) => {
    expect(mondayOf(year, week)).toBe(numberOfDay(monday))
  })

  test('a day begins an hour later or earlier in the night in which the clocks were changed', () => {
    const hours = (day: string) =>
      (startOfDay(numberOfDay(day) + 1, 'Europe/Madrid') -
        startOfDay(numberOfDay(day), 'Europe/Madrid')) /
      3_600_000
    expect(hours('2026-03-29')).toBe(23)
    expect(hours('2026-10-25')).toBe(25)
    expect(hours('2026-10-26')).toBe(24)
  })
})
