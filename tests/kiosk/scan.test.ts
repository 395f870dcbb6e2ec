import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  type Burst,
  paused,
  type Rules,
  rulesFor,
  type Slow,
  scanOf,
  slowly,
  stroke,
  WEDGE,
} from '../../kiosk/device/scanner.ts'
import { encodeCommandCode } from '../../labels/code.ts'

type Typed = {
  key: string
  gapMs: number
  isRepeat?: boolean
  isCombined?: boolean
  /** The page heard of nothing for a long time after it, though the next key was on its way. */
  isStalled?: boolean
}

/** Feeds keys to the detector as the page does, and keeps what a text field would have got. */
function type(keys: readonly Typed[], rules: Rules = WEDGE) {
  let burst: Burst | null = null
  let atMs = 1_000
  let field = ''
  let beforeBurst = ''
  const scans: string[] = []
  const pressed: string[] = []
  for (const { gapMs, isStalled, ...key } of keys) {
    atMs += gapMs
    const step = stroke(burst, { ...key, atMs }, rules)
    field += step.release
    if (step.scan !== null) {
      scans.push(step.scan)
      field = beforeBurst
    }
    if (step.starts) beforeBurst = field
    if (!step.swallow && key.key.length === 1) field += key.key
    if (!step.swallow && key.key.length > 1) pressed.push(key.key)
    burst = step.burst
    if (!isStalled) continue
    const pause = paused(burst, atMs + 10_000, rules)
    field += pause.release
    burst = pause.burst
  }
  field += paused(burst, atMs + 10_000, rules).release
  return { scans, field, pressed }
}
const keys = (text: string, gapMs: number): Typed[] => [...text].map((key) => ({ key, gapMs }))
const enter = (gapMs: number): Typed => ({ key: 'Enter', gapMs })

test.each([2, 8, 16, 35])('a label scanned with %i ms between keys is a scan', (gapMs) => {
  const typed = type([...keys('K7QD-2M', gapMs), enter(gapMs)])
  expect(typed).toEqual({ scans: ['K7QD-2M'], field: '', pressed: [] })
})

test.each([0, 1, 3, 6])('a page that stalls after key %i hears the whole scan', (n) => {
  const label = [...keys('K7QD-2M', 8), enter(8)]
  const stalled = label.map((key, i) => ({ ...key, isStalled: i === n }))
  expect(type(stalled)).toEqual({ scans: ['K7QD-2M'], field: '', pressed: [] })
})

test('stalls of the page change nothing of what is scanned and what is typed', () => {
  const key = fc.record({
    key: fc.constantFrom('A', 'b', '7', '-', 'Enter', 'Shift'),
    gapMs: fc.oneof(fc.integer({ min: 1, max: 35 }), fc.integer({ min: 1, max: 90 })),
    isStalled: fc.boolean(),
  })
  fc.assert(
    fc.property(fc.array(key, { maxLength: 60 }), (stalled) => {
      const smooth = stalled.map(({ key, gapMs }) => ({ key, gapMs }))
      expect(type(stalled)).toEqual(type(smooth))
    }),
  )
})

test.each([36, 60, 180])('the same keys %i ms apart are typing', (gapMs) => {
  const typed = type([...keys('K7QD-2M', gapMs), enter(gapMs)])
  expect(typed).toEqual({ scans: [], field: 'K7QD-2M', pressed: ['Enter'] })
})

test('a scanner that ends with Tab is heard as well', () => {
  expect(type([...keys('ABCD', 8), { key: 'Tab', gapMs: 8 }]).scans).toEqual(['ABCD'])
})

test('three quick keys and Enter are not a scan, and lose nothing', () => {
  expect(type([...keys('abc', 8), enter(8)])).toEqual({
    scans: [],
    field: 'abc',
    pressed: ['Enter'],
  })
})

test('a quick Enter a long time after the last key is a person’s', () => {
  expect(type([...keys('ABCDE', 8), enter(200)])).toEqual({
    scans: [],
    field: 'ABCDE',
    pressed: ['Enter'],
  })
})

test('two keys rolled over by quick fingers arrive in their order', () => {
  const typed = type([...keys('th', 20), ...keys('e', 90), ...keys('re', 25), ...keys('!', 100)])
  expect(typed).toEqual({ scans: [], field: 'there!', pressed: [] })
})

test('a scan in the middle of typing leaves what was typed', () => {
  const typed = type([
    ...keys('nib', 120),
    ...keys('K7QD', 150).slice(0, 1),
    ...keys('7QD', 8),
    enter(8),
  ])
  expect(typed).toEqual({ scans: ['K7QD'], field: 'nib', pressed: [] })
})

test('two scans on end are two', () => {
  const one = [...keys('AAAA', 8), enter(8)]
  const two = [...keys('BBBB', 8), enter(8)]
  expect(type([...one, ...two]).scans).toEqual(['AAAA', 'BBBB'])
})

test('Shift between the letters of a scan belongs to it', () => {
  const shifted = [...'K7QD'].flatMap((key) => [
    { key: 'Shift', gapMs: 8 },
    { key, gapMs: 8 },
  ])
  expect(type([...shifted, enter(8)]).scans).toEqual(['K7QD'])
})

test('Shift does not tie a key to one long before it', () => {
  const typed = type([
    { key: 'a', gapMs: 100 },
    { key: 'Shift', gapMs: 30 },
    { key: 'B', gapMs: 30 },
    { key: 'c', gapMs: 100 },
  ])
  expect(typed.field).toBe('aBc')
})

test('a key that is held repeats faster than a scanner and is none', () => {
  const held = Array.from({ length: 8 }, () => ({ key: 'x', gapMs: 33, isRepeat: true }))
  const typed = type([{ key: 'x', gapMs: 400 }, ...held, enter(33)])
  expect(typed).toEqual({ scans: [], field: 'xxxxxxxxx', pressed: ['Enter'] })
})

test('keys with Ctrl are commands and end a burst', () => {
  const typed = type([...keys('ab', 8), { key: 'v', gapMs: 8, isCombined: true }])
  expect(typed.scans).toEqual([])
  expect(typed.field).toBe('abv')
})

test('with a prefix a slow scanner is heard, and nothing of it reaches the page', () => {
  const rules = { ...WEDGE, prefix: 'F9' }
  const typed = type([{ key: 'F9', gapMs: 500 }, ...keys('K7', 900), enter(900)], rules)
  expect(typed).toEqual({ scans: ['K7'], field: '', pressed: [] })
})

test('a prefix pressed by hand holds the keys after it for a second and gives them back', () => {
  const rules = { ...WEDGE, prefix: 'F9' }
  const typed = type([{ key: 'F9', gapMs: 500 }, ...keys('ab', 300), ...keys('c', 1_100)], rules)
  expect(typed).toEqual({ scans: [], field: 'abc', pressed: [] })
})

test('whatever the rhythm, every key is either scanned or typed, in order', () => {
  const key = fc.record({
    key: fc.constantFrom('A', 'b', '7', '-', 'Enter', 'Shift'),
    gapMs: fc.integer({ min: 1, max: 90 }),
  })
  fc.assert(
    fc.property(fc.array(key, { maxLength: 60 }), (typed) => {
      const { scans, field } = type(typed)
      const letters = typed.filter((k) => k.key.length === 1).map((k) => k.key)
      expect(scans.join('').length + field.length).toBe(letters.length)
      expect(scans.every((s) => s.length >= WEDGE.minLength)).toBe(true)
    }),
  )
})

test('letters are upper case, and a sign that no label has shows a wrong keyboard layout', () => {
  expect(scanOf('k7qd-2m')).toEqual({ text: 'K7QD-2M', hasForeignSigns: false })
  expect(scanOf('K7QDß2M').hasForeignSigns).toBe(true)
  expect(scanOf('K7QD/2M').hasForeignSigns).toBe(true)
})

describe('a scanner that types as slowly as a person', () => {
  const CODE = encodeCommandCode('COATSTART')
  /** What is read along of keys with these gaps. */
  function along(text: string, gapMs: number, rules: Rules = WEDGE) {
    let slow: Slow | null = null
    let code: Slow | null = null
    let atMs = 0
    for (const key of [...text, 'Enter']) {
      atMs += gapMs
      const step = slowly(slow, { key, atMs }, rules)
      slow = step.slow
      code = step.code ?? code
    }
    return code
  }

  test.each([36, 50, 90])('is known by the checksum of its first code, at %i ms a key', (gapMs) => {
    expect(along(CODE, gapMs)).toMatchObject({ text: CODE, slowestMs: gapMs })
  })

  test('is not known by keys 91 ms apart, by a word, or by a code with one sign wrong', () => {
    expect(along(CODE, 91)).toBe(null)
    expect(along('two nibs taken out', 60)).toBe(null)
    const wrong = `${CODE.slice(0, -1)}${CODE.endsWith('A') ? 'B' : 'A'}`
    expect(along(wrong, 60)).toBe(null)
  })

  test('is heard from then on at its pace, also with some unsteadiness', () => {
    const rules = rulesFor(50)
    const label = [...CODE].map((key, i) => ({ key, gapMs: i % 3 === 0 ? 62 : 48 }))
    expect(type([...label, enter(50)], rules)).toEqual({ scans: [CODE], field: '', pressed: [] })
  })

  test('makes no scan of a person who types fast, who loses nothing', () => {
    const rules = rulesFor(50)
    const word = [...keys('nibs out', 64), enter(64)]
    expect(type(word, rules)).toEqual({ scans: [], field: 'nibs out', pressed: ['Enter'] })
    // A quick scanner is still heard from four signs on.
    expect(type([...keys('K7QD', 8), enter(8)], rules).scans).toEqual(['K7QD'])
  })

  test('leaves a quick one as it is', () => {
    expect(rulesFor(null)).toBe(WEDGE)
    expect(rulesFor(20)).toBe(WEDGE)
  })
})
