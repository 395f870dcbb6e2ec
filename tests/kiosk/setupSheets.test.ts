import { describe, expect, test } from 'vitest'
import { READING } from '../../kiosk/air/reading.ts'
import type { Fields, Spec } from '../../kiosk/forms/spec.ts'
import { drawing, FRAME, minutesWord } from '../../kiosk/setup/chart.ts'
import { AIR_SUPPLY, feedOf, GUN, PERSON, SHEET, SHOP, ZONE } from '../../kiosk/setup/forms.ts'
import { es } from '../../kiosk/words/all.es.ts'
import { en } from '../../kiosk/words/all.ts'
import { setupIn } from '../../kiosk/words/setupIn.ts'
import { sheetCurves } from '../../machines/trade/curves.ts'
import { CLEAR } from '../support/sheets.ts'

describe('every form', () => {
  const FORMS: Fields[] = [SHEET, AIR_SUPPLY, GUN, PERSON, READING, SHOP, ZONE]
  const inside = (spec: Spec): { keys: string[]; choices: string[] } => {
    const none = { keys: [], choices: [] }
    if (spec.kind === 'choice') return { keys: [], choices: [...spec.of] }
    if (spec.kind === 'points') return { keys: [], choices: Object.keys(spec.words) }
    if (spec.kind === 'list') return inside(spec.item)
    if (spec.kind !== 'group') return none
    const within = Object.entries(spec.fields).map(([key, field]) => {
      const deeper = inside(field.spec)
      const named = deeper.choices.map((c) =>
        `${key}.${c}` in setupIn(en).choices ? `${key}.${c}` : c,
      )
      return { keys: [key, ...deeper.keys], choices: named }
    })
    return {
      keys: within.flatMap((w) => w.keys),
      choices: within.flatMap((w) => w.choices),
    }
  }
  test.each([
    ['English', en],
    ['Spanish', es],
  ] as const)('has a word for every field and every choice in %s', (_, words) => {
    const { keys, choices } = inside({
      kind: 'group',
      fields: Object.fromEntries(
        FORMS.map((fields, i) => [`form${i}`, { spec: { kind: 'group', fields } }]),
      ),
    })
    const named = (key: string) => setupIn(words).fields[key] ?? (key.startsWith('form') ? key : '')
    expect(keys.filter((key) => named(key) === '')).toEqual([])
    const chosen = (c: string) => c in setupIn(words).choices || c in words.stage
    expect(choices.filter((c) => !chosen(c))).toEqual([])
  })
})

describe('a curve as a drawing', () => {
  const curves = sheetCurves(CLEAR)
  const drawn = (name: string, isF = false) => {
    const curve = curves.find((c) => c.name === name)
    if (!curve) throw new Error(`no curve ${name}`)
    return drawing(curve, [{ atC: 20, minutes: 60 }], isF)
  }

  test('lies within its frame, marks the sheet’s own points on the line', () => {
    for (const { name } of curves) {
      const picture = drawn(name)
      const spots = [...(picture?.line.matchAll(/[ML]([\d.]+) ([\d.]+)/g) ?? [])]
      expect(spots).toHaveLength(36)
      for (const [, x, y] of spots) {
        expect(Number(x)).toBeGreaterThanOrEqual(FRAME.left)
        expect(Number(x)).toBeLessThanOrEqual(FRAME.right)
        expect(Number(y)).toBeGreaterThanOrEqual(FRAME.top - 0.1)
        expect(Number(y)).toBeLessThanOrEqual(FRAME.bottom + 0.1)
      }
    }
    const mark = drawn('potLife')?.marks[0]
    expect(drawn('potLife')?.line).toContain(`L${mark?.x.toFixed(1)} ${mark?.y.toFixed(1)}`)
  })

  test('halving is the same step everywhere: the scale is logarithmic', () => {
    const picture = drawn('potLife')
    // One point doubles per 10 °C: from 20 to 40 °C two equal steps down.
    const y = (i: number) => Number(picture?.line.split(/[ML]/)[i + 1]?.split(' ')[1])
    expect(y(25) - y(15)).toBeCloseTo(y(35) - y(25), 0)
    expect(y(25)).toBeGreaterThan(y(15))
  })

  test('is ticked at lengths and temperatures that people say', () => {
    expect(drawn('potLife')?.yTicks.map((t) => t.word)).toEqual([
      '10 min',
      '20 min',
      '30 min',
      '60 min',
    ])
    expect(drawn('recoatWithin')?.yTicks.map((t) => t.word)).toEqual(['2 h', '4 h', '8 h'])
    expect(drawn('potLife', true)?.xTicks.map((t) => t.word)).toEqual(['60 °F', '80 °F', '100 °F'])
    expect([0.5, 7.5, 60, 90, 1440, 43_200].map(minutesWord)).toEqual([
      '0.5 min',
      '7.5 min',
      '60 min',
      '1.5 h',
      '1 d',
      '30 d',
    ])
  })

  test('has each temperature where the curve is at it, in either unit', () => {
    const at = (picture: ReturnType<typeof drawn>, word: string) =>
      picture?.xTicks.find((tick) => tick.word === word)?.at
    const mark = drawn('potLife')?.marks[0]
    expect(at(drawn('potLife'), '20 °C')).toBeCloseTo(mark?.x ?? 0, 6)
    // 68 °F is 20 °C, two fifths of the way from 60 to 80 °F.
    const [low = 0, high = 0] = ['60 °F', '80 °F'].map((word) => at(drawn('potLife', true), word))
    expect(low + 0.4 * (high - low)).toBeCloseTo(mark?.x ?? 0, 6)
    // The axis begins at 41 °F, and says nothing of 40.
    expect(drawn('potLife', true)?.xTicks.every(({ at }) => at > FRAME.left)).toBe(true)
  })

  test('is none where there is no wait, or air too damp for any', () => {
    const flat = { name: 'flashBetween', kind: 'notBefore' as const }
    expect(drawing({ ...flat, points: [{ atC: 5, minutes: 0 }] }, [], false)).toBeNull()
    expect(drawing({ ...flat, points: [] }, [], false)).toBeNull()
    expect(drawing({ ...flat, points: [{ atC: 5, minutes: 10 }] }, [], false)).not.toBeNull()
  })
})

describe('a compressor and a gun', () => {
  const supply = { air: 'main', receiverL: 270, freeAirLpm: 350, cutOutKpa: 1_000 }
  test('are answered by the calculator; what is not typed in is not guessed at', () => {
    expect(feedOf(supply, { airLpm: 300, inletKpa: 200 })).toEqual({
      kind: 'sustained',
      spareLpm: 50,
    })
    // 270 L x 800 kPa / 101.325 = 2131.8 L stored, drawn down at 50 L/min, filled at 350.
    expect(feedOf(supply, { airLpm: 400, inletKpa: 200 })).toMatchObject({
      kind: 'drawsDown',
      drawdownMin: expect.closeTo(42.6, 1),
      recoverMin: expect.closeTo(6.1, 1),
    })
    // 350 L/min for 60 % of the time are 210: 90 short of the gun's 300.
    expect(feedOf({ ...supply, duty: 0.6 }, { airLpm: 300, inletKpa: 200 })).toMatchObject({
      kind: 'drawsDown',
      drawdownMin: expect.closeTo(23.7, 1),
      recoverMin: expect.closeTo(10.2, 1),
    })
    expect(feedOf(supply, { airLpm: 400, inletKpa: 1_000 })).toEqual({ kind: 'tooLow' })
    expect(feedOf(supply, { airLpm: 400 })).toEqual({ kind: 'unknown' })
    expect(feedOf(supply, null)).toEqual({ kind: 'unknown' })
  })
})
