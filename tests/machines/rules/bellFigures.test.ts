import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { bellFigures } from '../../../machines/bell/figures.ts'
import { BELLS, type BellKind } from '../../../machines/bell/kinds.ts'
import type { Draft } from '../../../machines/envelope.ts'
import { MINUTE, minute, START_MS } from '../../support/shop.ts'

/** Figures of bells, worked out by hand. */

let count = 0
function entry(type: string, atMin: number, data: Draft['data'], keys: object = {}): Draft {
  count += 1
  const command = `c${count}`
  const at = minute(atMin)
  const who = { device: null, by: null, seq: count }
  return {
    ...{ shop: 'TESTSHOP', id: `${command}.0`, type, version: 1, at, enteredAt: at, ...who },
    ...{ command, data, ...keys },
  }
}
const rang = (bell: BellKind, id: string, atMin: number, keys: object = {}) =>
  entry('BellRang', atMin, { key: `${bell}:${id}`, bell, dueAt: minute(atMin) }, keys)
const answered = (bell: BellKind, id: string, atMin: number) =>
  entry('BellAcknowledged', atMin, { key: `${bell}:${id}` })
const voided = (mistake: Draft) =>
  entry('EntryVoided', 200, { entry: mistake.id, type: mistake.type, bell: 'x' })

const J1 = { job: 'JJJJ2222' }
const hours = (n: number) => ({ from: START_MS, to: START_MS + n * 60 * MINUTE })

describe('two hours of bells', () => {
  const mistaken = rang('potOver', 'CCCC2222', 66, { cup: 'CCCC2222' })
  const slip = answered('look', 'PPPP4444', 68)
  const log = [
    // Rang before the two hours, answered in them; and rang as they ended.
    rang('coatReady', 'PPPP2222', -1, { ...J1, panel: 'PPPP2222' }),
    answered('coatReady', 'PPPP2222', 2),
    rang('cureOver', 'PPPP2222', 120, { ...J1, panel: 'PPPP2222' }),
    rang('coatReady', 'PPPP2222', 5, { ...J1, panel: 'PPPP2222' }),
    answered('coatReady', 'PPPP2222', 6),
    rang('potNear', 'CCCC2222', 6, { cup: 'CCCC2222' }),
    answered('potNear', 'CCCC2222', 10),
    // The same bell again: what answered the first does not answer this one.
    rang('coatReady', 'PPPP2222', 25, { ...J1, panel: 'PPPP2222' }),
    rang('windowClosing', 'PPPP3333', 28, { ...J1, panel: 'PPPP3333' }),
    answered('windowClosing', 'PPPP3333', 28.5),
    // Another kiosk, a moment later: the first has stopped the sound.
    answered('windowClosing', 'PPPP3333', 30),
    rang('gunDue', 'gun-2', 61, { gun: 'gun-2' }),
    answered('gunDue', 'gun-2', 71),
    mistaken,
    voided(mistaken),
    rang('look', 'PPPP4444', 67, { ...J1, panel: 'PPPP4444' }),
    slip,
    voided(slip),
    // A snooze is not an answer.
    entry('BellSnoozed', 69, { key: 'look:PPPP4444', minutes: 5 }),
  ]

  test('six rang in twelve ten-minute periods, two of them at most within ten minutes', () => {
    expect(bellFigures(log, hours(2))).toMatchObject({
      rang: 6,
      periods: 12,
      perPeriod: 0.5,
      peak: { rang: 2, fromMs: minute(5) },
      floodShare: 0,
    })
  })

  test('four were answered after ½, 1, 4 and 10 minutes, two never', () => {
    expect(bellFigures(log, hours(2))).toMatchObject({
      acknowledged: 4,
      medianMs: 2.5 * MINUTE,
      p95Ms: 10 * MINUTE,
      neverAcknowledged: 2,
    })
  })

  test('half were prompts and half alarms, and the one urgent bell was a mistake', () => {
    const { shares, isHighTooOften } = bellFigures(log, hours(2))
    expect(shares).toEqual({ prompt: 0.5, medium: 0.5, high: 0 })
    expect(isHighTooOften).toBe(false)
  })

  test('what called most comes first: a kind of bell of a job, of a gun, of a cup without a job', () => {
    const job = { kind: 'job', id: 'JJJJ2222' }
    expect(bellFigures(log, hours(2)).sources).toEqual([
      { bell: 'coatReady', of: job, rang: 2 },
      { bell: 'gunDue', of: { kind: 'gun', id: 'gun-2' }, rang: 1 },
      { bell: 'look', of: job, rang: 1 },
      { bell: 'potNear', of: { kind: 'cup', id: 'CCCC2222' }, rang: 1 },
      { bell: 'windowClosing', of: job, rang: 1 },
    ])
  })

  test('a shop that was open for the first hour only is judged by that, and by what rang later', () => {
    const isOpen = (ms: number) => ms < minute(60)
    // Six periods of the hour, and the one in which the gun called.
    const figures = bellFigures(log, { ...hours(2), isOpen })
    expect(figures).toMatchObject({ periods: 7, perPeriod: 6 / 7 })
  })

  test('an hour in which nothing rang has figures too', () => {
    const from = minute(600)
    expect(bellFigures(log, { from, to: from + 60 * MINUTE })).toEqual({
      ...{ from, to: from + 60 * MINUTE, rang: 0, periods: 6, perPeriod: 0, peak: null },
      ...{ floodShare: 0, acknowledged: 0, medianMs: null, p95Ms: null, neverAcknowledged: 0 },
      ...{ floodsBegun: 0, escalated: 0, held: 0 },
      ...{ sources: [], shares: null, isHighTooOften: false },
    })
  })
})

test('bells that called more people, were held, or flooded a kiosk are counted, each ring once', () => {
  const at = (min: number, type: string, data: Draft['data']) => entry(type, min, data)
  const key = 'windowShut:PPPP2222'
  const slip = at(33, 'BellHeld', { key, bell: 'windowShut', untilMs: 0 })
  const log = [
    rang('windowShut', 'PPPP2222', 10),
    at(11, 'BellEscalated', { key, bell: 'windowShut', to: 'lead', shown: true }),
    at(13, 'BellEscalated', { key, bell: 'windowShut', to: 'shop', shown: true }),
    answered('windowShut', 'PPPP2222', 14),
    // Rang again, and was answered in time.
    rang('windowShut', 'PPPP2222', 30),
    answered('windowShut', 'PPPP2222', 30.5),
    at(32, 'BellHeld', { key, bell: 'windowShut', untilMs: 0 }),
    slip,
    voided(slip),
    at(40, 'BellFlood', { isOn: true, count: 5 }),
    at(45, 'BellFlood', { isOn: false, count: 3 }),
    // Before the hour.
    at(-1, 'BellFlood', { isOn: true, count: 5 }),
  ]
  expect(bellFigures(log, hours(1))).toMatchObject({ escalated: 1, held: 1, floodsBegun: 1 })
})

test('eleven in ten minutes are a flood, ten are not', () => {
  const many = (n: number, fromMin: number) =>
    Array.from({ length: n }, (_, i) => rang('coatReady', `P${fromMin}${i}`, fromMin + i / 2))
  const log = [...many(11, 10), ...many(10, 40)]
  // One of six periods.
  expect(bellFigures(log, hours(1))).toMatchObject({ floodShare: 1 / 6, peak: { rang: 11 } })
})

test('the busiest ten minutes may lie across two periods', () => {
  const at = [8, 9, 9.5, 11, 17.9, 18.1]
  const log = at.map((min) => rang('coatReady', `P${min}`, min))
  // From 8 up to 18: all but the last.
  expect(bellFigures(log, hours(1)).peak).toEqual({ rang: 5, fromMs: minute(8) })
})

test('more than one urgent bell in ten is too many, one in ten is not', () => {
  const prompts = Array.from({ length: 9 }, (_, i) => rang('coatReady', `P${i}`, i))
  const urgent = [rang('potOver', 'C1', 20), rang('potOver', 'C2', 30)]
  expect(bellFigures([...prompts, ...urgent.slice(0, 1)], hours(1))).toMatchObject({
    shares: { prompt: 0.9, medium: 0, high: 0.1 },
    isHighTooOften: false,
  })
  expect(bellFigures([...prompts, ...urgent], hours(1)).isHighTooOften).toBe(true)
})

test('ten sources are named at most', () => {
  const log = Array.from({ length: 30 }, (_, i) =>
    rang('gunDue', `g${i % 15}`, i, { gun: `g${i % 15}` }),
  )
  const { sources } = bellFigures(log, hours(1))
  expect(sources.map((source) => source.rang)).toEqual(Array(10).fill(2))
})

const kinds = Object.keys(BELLS) as BellKind[]
const someLog = fc
  .array(
    fc.record({
      what: fc.constantFrom('rang', 'answered', 'voided' as const),
      bell: fc.constantFrom(...kinds),
      id: fc.constantFrom('A', 'B', 'C'),
      atMin: fc.integer({ min: -30, max: 150 }),
    }),
    { minLength: 1, maxLength: 60 },
  )
  .map((all) => {
    const log: Draft[] = []
    for (const { what, bell, id, atMin } of all) {
      const mistake = log[(atMin + 30) % Math.max(1, log.length)]
      if (what === 'rang') log.push(rang(bell, id, atMin))
      else if (what === 'answered') log.push(answered(bell, id, atMin))
      else if (mistake && mistake.type !== 'EntryVoided') log.push(voided(mistake))
    }
    return log
  })

describe('figures of any bells', () => {
  test('come out the same in whatever order the entries are read', () => {
    fc.assert(
      fc.property(
        someLog.chain((log) =>
          fc.tuple(fc.constant(log), fc.shuffledSubarray(log, { minLength: log.length })),
        ),
        ([log, shuffled]) => {
          expect(bellFigures(shuffled, hours(2))).toEqual(bellFigures(log, hours(2)))
        },
      ),
    )
  })

  test('add up: shares to one, answered and never answered to all, p95 not before the median', () => {
    fc.assert(
      fc.property(someLog, (log) => {
        const f = bellFigures(log, hours(2))
        const { prompt, medium, high } = f.shares ?? { prompt: 1, medium: 0, high: 0 }
        expect(prompt + medium + high).toBeCloseTo(1, 12)
        expect(f.acknowledged + f.neverAcknowledged).toBe(f.rang)
        expect(f.p95Ms ?? 0).toBeGreaterThanOrEqual(f.medianMs ?? 0)
        expect(f.medianMs ?? 0).toBeGreaterThanOrEqual(0)
        expect(f.peak?.rang ?? 0).toBeLessThanOrEqual(f.rang)
        expect(f.sources.reduce((sum, s) => sum + s.rang, 0)).toBeLessThanOrEqual(f.rang)
      }),
    )
  })

  test('are those of the same bells without what was voided', () => {
    fc.assert(
      fc.property(someLog, (log) => {
        const gone = new Set(log.map((e) => e.data.entry))
        const left = log.filter((e) => e.type !== 'EntryVoided' && !gone.has(e.id))
        expect(bellFigures(log, hours(2))).toEqual(bellFigures(left, hours(2)))
      }),
    )
  })
})
