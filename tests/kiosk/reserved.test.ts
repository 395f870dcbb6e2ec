import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type Note, PATTERNS, type Pattern } from '../../kiosk/bells/sound/patterns.ts'
import { REPEATS } from '../../machines/bell/kinds.ts'
import { type Reserved, reserved } from '../support/reserved.ts'

const note = (onMs: number, offMs: number, more: Partial<Note> = {}): Note => ({
  onMs,
  offMs,
  hz: [800],
  ...more,
})
const pattern = (...notes: Note[]): Pattern => ({ notes, harmonicsDb: [0], peakDb: -10 })
const times = (n: number, ...notes: Note[]) => Array.from({ length: n }, () => notes).flat()

test('no bell of the catalog means something else, however often it is repeated', () => {
  for (const [name, { atMs, thenEveryMs }] of Object.entries(REPEATS)) {
    const gaps = atMs.slice(1).map((at, n) => at - (atMs[n] ?? 0))
    for (const everyMs of [undefined, ...gaps, ...(thenEveryMs === null ? [] : [thenEveryMs])])
      expect(reserved(PATTERNS[name as keyof typeof REPEATS], everyMs), name).toBe(null)
  }
  expect(reserved(PATTERNS.ok)).toBe(null)
  expect(reserved(PATTERNS.error)).toBe(null)
})

// The three-pulse evacuation signal: ISO 8201 as a building code quotes it, 0.5 s each within 10 %.
// The four-pulse signal is from memory.
const FORBIDDEN: [string, Reserved['code'], Pattern, number?][] = [
  ['evacuate', 'evacuate', pattern(...times(3, note(500, 500)))],
  ['evacuate, 10 % short', 'evacuate', pattern(...times(3, note(450, 450)))],
  ['evacuate, 10 % long', 'evacuate', pattern(...times(3, note(550, 550)))],
  ['evacuate at the edge', 'evacuate', pattern(...times(3, note(400, 600)))],
  ['evacuate inside more', 'evacuate', pattern(note(150, 300), ...times(3, note(500, 500)))],
  [
    'evacuate of two pitches',
    'evacuate',
    pattern(note(500, 500), note(500, 500, { hz: [400] }), note(500, 0)),
  ],
  ['evacuate by repeating one pulse', 'evacuate', pattern(note(500, 0)), 1_000],
  ['evacuate by repeating two', 'evacuate', pattern(note(500, 450), note(500, 0)), 1_950],
  [
    'evacuate made of short notes on end',
    'evacuate',
    pattern(...times(3, note(250, 0), note(250, 500))),
  ],
  ['carbon monoxide', 'carbonMonoxide', pattern(...times(4, note(100, 100)))],
  ['carbon monoxide inside more', 'carbonMonoxide', pattern(...times(6, note(90, 110)))],
  ['a tone over 2 s', 'continuous', pattern(note(2_001, 0))],
  ['a tone over 2 s in parts', 'continuous', pattern(...times(5, note(450, 10)))],
  ['a tone without end by repeating', 'continuous', pattern(note(900, 0)), 900],
  ['a slow sweep', 'siren', pattern(note(1_200, 0, { toHz: 500 }))],
  [
    'a sweep up and down',
    'siren',
    pattern(note(600, 200, { toHz: 1_000 }), note(600, 0, { toHz: 500 })),
  ],
]
test.each(FORBIDDEN)('%s is refused', (_, code, forbidden, everyMs) => {
  const found = reserved(forbidden, everyMs)
  expect(found?.code).toBe(code)
  expect(found?.message).toMatch(/^This pattern is reserved: .+\.$/)
})

test('what only resembles a reserved pattern is allowed', () => {
  expect(reserved(pattern(...times(2, note(500, 500))))).toBe(null)
  expect(reserved(pattern(...times(3, note(300, 300))))).toBe(null)
  expect(reserved(pattern(...times(3, note(100, 100))))).toBe(null)
  expect(reserved(pattern(note(400, 500), note(600, 500), note(400, 0)))).toBe(null)
  expect(reserved(pattern(note(700, 0, { toHz: 500 })))).toBe(null)
})

test('any three equal pulses of 0.4 to 0.6 s with such gaps are refused, whatever surrounds them', () => {
  const ms = fc.integer({ min: 400, max: 600 })
  const other = fc.record({
    onMs: fc.integer({ min: 40, max: 300 }),
    offMs: fc.integer({ min: 40, max: 300 }),
  })
  fc.assert(
    fc.property(ms, ms, fc.array(other, { maxLength: 3 }), (onMs, offMs, around) => {
      const others = around.map((o) => note(o.onMs, o.offMs))
      const found = reserved(pattern(...others, ...times(3, note(onMs, offMs)), ...others))
      expect(found?.code).toBe('evacuate')
    }),
  )
})
