import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { doubtOf } from '../../kiosk/forms/draft.ts'
import { countdown, formatOf } from '../../kiosk/units/format.ts'
import { type Measure, parseMeasure, readNumber, typedMeasure } from '../../kiosk/units/measure.ts'
import { es } from '../../kiosk/words/all.es.ts'

/** What is typed and shown is in the shop's units; what is stored is in SI units. */

const US = { temperature: 'F', volume: 'flOz', pressure: 'psi' } as const
const HOUR = 3_600_000
const MACHINES = fileURLToPath(new URL('../../machines/', import.meta.url))

describe('a number as typed', () => {
  test('may have a decimal comma or point, and a minus', () => {
    expect(['1', '1,5', '1.5', ' 20 ', '-3', '−3,5', ',5', '7.'].map(readNumber)).toEqual([
      1, 1.5, 1.5, 20, -3, -3.5, 0.5, 7,
    ])
  })

  test('is nothing when it could be meant in two ways, or is none', () => {
    for (const text of ['', '-', '.', '1,500.5', '1.500,5', '2:1', '1e3', '0x10', 'NaN', '1 000'])
      expect(readNumber(text), text).toBeNull()
  })
})

describe('units', () => {
  // Exact by definition: 1 US fl oz, 1 bar in psi, 0 and 100 °C in °F.
  test('are converted as defined', () => {
    expect(parseMeasure('32', 'airTemperature', US)).toBe(0)
    expect(parseMeasure('212', 'temperature', US)).toBe(100)
    expect(parseMeasure('14,5038', 'pressure', US)).toBe(100)
    expect(parseMeasure('2', 'pressure', {})).toBe(200)
    expect(parseMeasure('1', 'volume', US)).toBe(29.5735)
    expect(parseMeasure('55', 'fraction', US)).toBe(0.55)
  })

  test('differences of temperature convert without the 32: 3 °C are 5.4 °F', () => {
    expect(formatOf({ units: US }).degrees(3)).toBe('5 °F')
    expect(formatOf({ units: US }).temperature(0)).toBe('32 °F')
  })

  const measures = fc.constantFrom<Measure>(
    'airTemperature',
    'temperature',
    'pressure',
    'volume',
    'fraction',
    'plain',
  )
  test('what is written into a form and read back is what was stored, within the form’s step', () => {
    fc.assert(
      fc.property(
        measures,
        fc.constantFrom(US, {}),
        fc.double({ min: 0.01, max: 900, noNaN: true }),
        (measure, units, stored) => {
          const typed = typedMeasure(stored, measure, units)
          const back = parseMeasure(typed, measure, units) ?? Number.NaN
          // Half of the last written digit, in storage's unit: 0.01 fl oz is 0.3 mL, 0.1 psi 0.7 kPa.
          const halfStep = { volume: 0.15, pressure: 0.51, fraction: 0.0001 } as Record<
            string,
            number
          >
          expect(Math.abs(back - stored)).toBeLessThanOrEqual((halfStep[measure] ?? 0.05) + 1e-9)
          // And it stays what it is, however often a form is opened and saved.
          expect(typedMeasure(back, measure, units)).toBe(typed)
        },
      ),
    )
  })

  test('the shown value is within half a display step of the stored one', () => {
    const us = formatOf({ units: US })
    const si = formatOf({})
    fc.assert(
      fc.property(fc.double({ min: 20, max: 900, noNaN: true }), (v) => {
        const shown = (text: string) => Number(text.replace(/[^\d.-]/g, ''))
        expect(Math.abs(shown(us.volume(v)) * 29.5735 - v)).toBeLessThanOrEqual(0.05 * 29.5735)
        expect(Math.abs(shown(si.pressure(v)) * 100 - v)).toBeLessThanOrEqual(5 + 1e-9)
        expect(Math.abs(shown(us.pressure(v)) * 6.89476 - v)).toBeLessThanOrEqual(3.5)
      }),
    )
  })

  test('a value of the other unit’s magnitude is questioned', () => {
    expect(doubtOf('25', 'pressure', {})).toMatchObject({ unit: 'psi', typed: '1.72' })
    expect(doubtOf('2', 'pressure', US)).toMatchObject({ unit: 'bar', typed: '29' })
    expect(doubtOf('70', 'airTemperature', {})).toMatchObject({ unit: '°F', typed: '21.1' })
    expect(doubtOf('20', 'airTemperature', US)).toMatchObject({ unit: '°C', typed: '68' })
    for (const [text, measure, units] of [
      ['2', 'pressure', {}],
      ['29', 'pressure', US],
      ['20', 'airTemperature', {}],
      ['68', 'airTemperature', US],
      ['60', 'temperature', {}],
      ['2', 'plain', {}],
      ['', 'pressure', {}],
      ['10000', 'pressure', {}],
    ] as const)
      expect(doubtOf(text, measure, units), `${text} ${measure}`).toBeNull()
  })

  test('Spanish writes a decimal point as in Mexico, and both marks are read', () => {
    expect(formatOf({ language: 'es' }).temperature(21.5)).toBe('21.5 °C')
    expect(parseMeasure('21,5', 'airTemperature', {})).toBe(21.5)
  })
})

describe('time on the wall', () => {
  const zones = [
    // Clocks are put back an hour at 01:00 UTC on 25 October 2026, and forward on 29 March (EU rule).
    {
      timeZone: 'Europe/Madrid',
      back: Date.UTC(2026, 9, 25, 1),
      forward: Date.UTC(2026, 2, 29, 1),
    },
    // 1 November 2026 at 07:00 UTC and 8 March 2026 at 08:00 UTC (US rule, Central time).
    {
      timeZone: 'America/Chicago',
      back: Date.UTC(2026, 10, 1, 7),
      forward: Date.UTC(2026, 2, 8, 8),
    },
  ]
  test.each(zones)('a change of the clocks alters no interval in $timeZone', (zone) => {
    const f = formatOf({ timeZone: zone.timeZone })
    const clockHours = (from: number, to: number) => {
      const minutes = (ms: number) => {
        const [h = 0, min = 0] = f.time(ms).split(':').map(Number)
        return h * 60 + min
      }
      return (minutes(to) - minutes(from)) / 60
    }
    for (const [change, dials] of [
      [zone.back, 1],
      [zone.forward, 3],
    ] as const) {
      const from = change - HOUR
      const to = change + HOUR
      // The dial jumps, the wait does not: two hours are two hours.
      expect(clockHours(from, to)).toBe(dials)
      expect(countdown(to - from)).toBe('2:00:00')
    }
  })

  test.each(zones)(
    'tomorrow is marked +1 also over a change of the clocks in $timeZone',
    (zone) => {
      const f = formatOf({ timeZone: zone.timeZone })
      for (const change of [zone.back, zone.forward]) {
        expect(f.timeAndDay(change + 24 * HOUR, change)).toMatch(/^\d\d:\d\d \+1$/)
        expect(f.timeAndDay(change + 3 * HOUR, change)).toMatch(/^\d\d:\d\d$/)
        expect(f.timeAndDay(change + 72 * HOUR, change)).toMatch(/^\d\d:\d\d [A-Z][a-z]{2}$/)
      }
    },
  )

  test('12 hours where the shop wants them', () => {
    const f = formatOf({ timeZone: 'America/Chicago', clock: '12h' })
    expect(f.time(Date.UTC(2026, 5, 1, 19, 5))).toBe('2:05 PM')
  })
})

test('a unit that is a word of a schema is a Spanish one on a Spanish screen', () => {
  const sources = readdirSync(MACHINES, { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts') && !file.startsWith('words'))
    .map((file) => readFileSync(join(MACHINES, file), 'utf8'))
  const found = sources.flatMap((text) =>
    [...text.matchAll(/\b(?:number|whole|above0)\([^()]*'([a-z]{4,}(?: [a-z]+)*)'\)/g)].map(
      (match) => match[1] ?? '',
    ),
  )
  const named = [...new Set(found)]
  expect(named).toContain('jobs')
  expect(named.filter((unit) => es.said.unit(unit) === unit)).toEqual([])
})

test.each(['C', 'F'] as const)(
  'a dew point and what is above it add up to the surface, in the figures shown: °%s',
  (temperature) => {
    const f = formatOf({ units: { temperature } })
    const figure = (text: string | null) => Number(text?.split(' ')[0])
    const digits = temperature === 'F' ? 0 : 1
    const celsius = fc.integer({ min: -100, max: 400 }).map((tenths) => tenths / 10)
    fc.assert(
      fc.property(fc.double({ min: -20, max: 30, noNaN: true }), celsius, (dewC, surfaceC) => {
        const { point, above } = f.dew(dewC, surfaceC)
        const surface = temperature === 'F' ? Math.round(surfaceC * 1.8 + 32) : surfaceC
        expect((figure(point) + figure(above)).toFixed(digits)).toBe(surface.toFixed(digits))
      }),
    )
    expect(f.dew(10, null).above).toBeNull()
  },
)
