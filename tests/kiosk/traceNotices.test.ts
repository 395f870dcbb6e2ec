import { expect, test } from 'vitest'
import { shortLength } from '../../kiosk/units/format.ts'
import { en, es, noticeText } from '../../kiosk/words/traceNotices.ts'
import type { Notice } from '../../machines/trace/notices.ts'

/** Each is a whole sentence in both languages, for one and for many. */

const say = { length: shortLength, time: (ms: number) => new Date(ms).toISOString().slice(11, 16) }
const DAY = 86_400_000
const EVERY: readonly Notice[] = [
  { is: 'noAir' },
  { is: 'someAir', coats: 2, of: 3 },
  { is: 'clockSet', at: 8 * 3_600_000, byMs: -40 * 60_000 },
  { is: 'clockSet', at: 8 * 3_600_000, byMs: 40 * 60_000 },
  ...[1, 7].flatMap((n): Notice[] => [
    { is: 'clockOff', entries: n, mostMs: 20 * 60_000 },
    { is: 'toldLate', entries: n, mostMs: 3 * DAY },
    { is: 'takenBack', entries: n },
    { is: 'estimated', coats: n },
  ]),
  { is: 'neverCleared', panels: ['Door', 'Sill'] },
]

test.each(EVERY)('%j', (notice) => {
  const [a, b] = [noticeText(notice, en, say), noticeText(notice, es, say)]
  for (const text of [a, b]) {
    expect(text).toMatch(/^[A-Z0-9].*\.$/)
    expect(text).not.toMatch(/undefined|null|NaN|\[object/)
  }
  expect(a).not.toBe(b)
})

test('lengths and times are said as they are everywhere', () => {
  const told = (notice: Notice) => noticeText(notice, en, say)
  expect(told({ is: 'toldLate', entries: 2, mostMs: 3 * DAY })).toContain('up to 3 d after')
  expect(told({ is: 'clockSet', at: 8 * 3_600_000, byMs: -2_400_000 })).toContain(
    'set back by 40 min at 08:00',
  )
})
