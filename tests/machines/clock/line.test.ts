import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { BLIND, endsAt, type Interval, STALE_MS } from '../../../machines/clock/line.ts'
import { FOREVER_MS } from '../../../machines/spans.ts'
import { anyPoints, sanePoints, T0, wait, world } from '../../support/randomClimate.ts'
import {
  changesOf,
  minutesNow,
  usedUp,
  type Wait,
  type World,
} from '../../support/randomIntervals.ts'
import { runs } from '../../support/randomRuns.ts'

const MIN = 60_000
const hour: Interval = { kind: 'notAfter', points: [{ atC: 20, minutes: 60 }] }
const air = (...readings: [number, number][]): World => ({
  stays: [{ fromMs: T0, readings: readings.map(([min, airC]) => ({ at: T0 + min * MIN, airC })) }],
  parts: [],
  staleMs: STALE_MS,
})
const lasts = (wait: Wait, climate: World): number | null => {
  const end = endsAt(wait, T0, climate)
  return end === null ? null : (end - T0) / MIN
}

describe('an interval in changing air', () => {
  test('an hour at 20 °C ends at minute 40 when the shop warms to 30 °C at minute 20', () => {
    expect(lasts(hour, air([0, 20], [20, 30]))).toBe(40)
  })

  test('without a reading the sheet’s own figure counts', () => {
    expect(lasts(hour, BLIND)).toBe(60)
    expect(lasts(hour, air())).toBe(60)
  })

  test('the first reading holds back to the start', () => {
    expect(lasts(hour, air([10, 30]))).toBe(30)
  })

  test('half an hour after a reading the more cautious of it and the sheet’s own figure counts', () => {
    const wait: Wait = { ...hour, kind: 'notBefore' }
    // Read cold long ago: the cold goes on counting. Read warm: the own figure comes back.
    expect(lasts(wait, air([0, 10]))).toBe(120)
    const points = [
      { atC: 20, minutes: 60 },
      { atC: 30, minutes: 40 },
    ]
    expect(lasts({ kind: 'notBefore', points }, air([0, 30]))).toBe(45)
    expect(lasts({ kind: 'notBefore', points }, air([0, 30], [30, 30]))).toBe(40)
  })

  test('readings that others have followed cost nothing, however many there are', () => {
    const looksFor = (before: number): number => {
      let looks = 0
      const readings = Array.from({ length: before }, (_, i) => ({ at: T0 - before + i, airC: 25 }))
      const climate: World = {
        get stays() {
          looks += 1
          return [{ fromMs: T0, readings }]
        },
        parts: readings.map(({ at }) => ({ at, partC: 25 })),
        staleMs: STALE_MS,
      }
      expect(endsAt(hour, T0, climate)).not.toBeNull()
      return looks
    }
    expect(looksFor(500)).toBe(looksFor(1))
  })

  test('what waits beside a bake goes blind half an hour after the last reading that was none of the bake', () => {
    const wait: Wait = {
      kind: 'notBefore',
      points: [
        { atC: 20, minutes: 60 },
        { atC: 30, minutes: 40 },
      ],
    }
    const before = [{ at: T0, airC: 30 }]
    const baked = Array.from({ length: 8 }, (_, i) => ({ at: T0 + (7 + 5 * i) * MIN, airC: 60 }))
    const beside = {
      stays: [{ fromMs: T0, readings: [...before, ...baked], cool: before }],
      parts: [],
      staleMs: STALE_MS,
    }
    expect(lasts(wait, beside)).toBe(lasts(wait, air([0, 30])))
    expect(lasts(wait, beside)).toBe(45)
  })

  test('from a move on the air of the other zone counts, as it was read before the move', () => {
    const moved: World = {
      stays: [
        { fromMs: T0, readings: [{ at: T0, airC: 20 }] },
        { fromMs: T0 + 20 * MIN, readings: [{ at: T0 + 15 * MIN, airC: 30 }] },
      ],
      parts: [],
      staleMs: STALE_MS,
    }
    expect(lasts(hour, moved)).toBe(40)
  })

  test('a cold part holds a flash back for half an hour, and a warm one shortens a pot life', () => {
    const cold = { ...air([0, 20], [20, 20], [40, 20], [60, 20]), parts: [{ at: T0, partC: 10 }] }
    // At half speed for half an hour: a quarter is done, and three quarters are left.
    expect(lasts({ ...hour, kind: 'notBefore' }, cold)).toBe(75)
    expect(lasts(hour, cold)).toBe(60)
    const warm = { ...cold, parts: [{ at: T0, partC: 30 }] }
    expect(lasts({ ...hour, kind: 'notBefore' }, warm)).toBe(60)
    expect(lasts(hour, warm)).toBe(30)
  })
})

/** More often and finer steps where the end is near would hide nothing: all steps are one second. */
test('a cure that is too cold never ends, also where the air of before is held no more', () => {
  const cure: Interval = {
    kind: 'notBefore',
    points: [{ atC: 20, minutes: 720 }],
    leastC: 15,
  }
  const readings = [{ at: 0, airC: 10, rh: 0.5 }]
  const heldMs = [{ fromMs: 0, toMs: FOREVER_MS }]
  const ends = (stay: object) =>
    endsAt(cure, 0, { stays: [{ fromMs: 0, readings, ...stay }], parts: [], staleMs: STALE_MS })
  expect([ends({}), ends({ heldMs })]).toEqual([null, null])
})

const STEP_MS = 1_000

function agreesWithSteps(wait: Wait, climate: World): void {
  const end = endsAt(wait, T0, climate)
  const last = Math.max(T0, ...changesOf(climate)) + 1
  if (end === null) {
    expect(minutesNow(wait, climate, last)).toBe(Number.POSITIVE_INFINITY)
    const { used, error } = usedUp(wait, climate, T0, last, STEP_MS)
    expect(used).toBeLessThan(1 + error)
    return
  }
  // Figures that rise steeply with cold may ask for years: no test steps through those.
  fc.pre(end - T0 < 12 * 60 * MIN)
  const at = (t: number) => usedUp(wait, climate, T0, Math.max(T0, t), STEP_MS)
  const there = at(end)
  // The end of a span and a whole second are each met within 1 ms.
  const slack = there.error + 2 * there.fastest + 1e-9
  if (wait.kind === 'notBefore') {
    expect(there.used).toBeGreaterThanOrEqual(1 - slack)
    expect(at(end - 1000).used).toBeLessThanOrEqual(1 + slack)
  } else {
    expect(there.used).toBeLessThanOrEqual(1 + slack)
    const past = at(end + 1000)
    expect(past.used).toBeGreaterThanOrEqual(1 - past.error - 2 * past.fastest - 1e-9)
  }
}

describe('an interval against a stepping integrator', () => {
  test('ends where steps of a second end it, in any air, zones, on any part, stale or fresh', () => {
    fc.assert(fc.property(wait(anyPoints), world, agreesWithSteps), { numRuns: runs(300) })
  })

  test('ends where steps of a second end it when readings come in whole seconds', () => {
    const snapped = world.map((w) => ({
      ...w,
      stays: w.stays.map((s) => ({
        ...s,
        readings: s.readings.map((r) => ({ ...r, at: Math.round(r.at / 1000) * 1000 })),
      })),
    }))
    fc.assert(fc.property(wait(sanePoints), snapped, agreesWithSteps), { numRuns: runs(100) })
  })
})

const endOf = (wait: Wait, climate: World) => endsAt(wait, T0, climate) ?? Number.POSITIVE_INFINITY

describe('caution', () => {
  const pick = fc.nat()
  const more = fc.double({ min: 0, max: 15, noNaN: true })

  test('a colder or damper reading never ends a wait sooner; a warmer one never ends a permission later', () => {
    fc.assert(
      fc.property(wait(sanePoints), world, pick, more, (wait, climate, which, by) => {
        const isWait = wait.kind === 'notBefore'
        const total = climate.stays.reduce((n, s) => n + s.readings.length, 0)
        fc.pre(total > 0)
        let i = -1
        const careful: World = {
          ...climate,
          stays: climate.stays.map((s) => ({
            ...s,
            readings: s.readings.map((r) => {
              i += 1
              if (i !== which % total) return r
              const rh = Math.min(1, (r.rh ?? 0) + by / 30)
              return { ...r, airC: r.airC + (isWait ? -by : by), rh: isWait ? rh : (r.rh ?? 0) }
            }),
          })),
        }
        const [before, after] = [endOf(wait, climate), endOf(wait, careful)]
        if (isWait) expect(after).toBeGreaterThanOrEqual(before)
        else expect(after).toBeLessThanOrEqual(before)
      }),
      { numRuns: runs(300) },
    )
  })

  test('a part that is measured never ends a wait sooner nor a permission later', () => {
    fc.assert(
      fc.property(wait(sanePoints), world, (wait, climate) => {
        const unmeasured = endOf(wait, { ...climate, parts: [] })
        const measured = endOf(wait, climate)
        if (wait.kind === 'notBefore') expect(measured).toBeGreaterThanOrEqual(unmeasured)
        else expect(measured).toBeLessThanOrEqual(unmeasured)
      }),
      { numRuns: runs(200) },
    )
  })

  test('air that goes stale never ends a wait sooner nor a permission later', () => {
    fc.assert(
      fc.property(wait(sanePoints), world, (wait, climate) => {
        const fresh = endOf(wait, { ...climate, staleMs: Number.POSITIVE_INFINITY })
        const stale = endOf(wait, { ...climate, staleMs: STALE_MS })
        if (wait.kind === 'notBefore') expect(stale).toBeGreaterThanOrEqual(fresh)
        else expect(stale).toBeLessThanOrEqual(fresh)
      }),
      { numRuns: runs(200) },
    )
  })

  test('what starts later ends later, or together', () => {
    fc.assert(
      fc.property(wait(anyPoints), world, fc.nat({ max: 3_600 }), (wait, climate, s) => {
        const later = endsAt(wait, T0 + s * 1000, climate) ?? Number.POSITIVE_INFINITY
        expect(later).toBeGreaterThanOrEqual(endOf(wait, climate) - 1000)
      }),
      { numRuns: runs(200) },
    )
  })
})

describe('whole seconds', () => {
  test('every length is whole seconds, and no wait has the length zero', () => {
    fc.assert(
      fc.property(wait(anyPoints), world, (wait, climate) => {
        const end = endsAt(wait, T0, climate)
        if (end !== null) expect((end - T0) % 1000).toBe(0)
        const zero = { ...wait, points: wait.points.map((p) => ({ ...p, minutes: 0 })) }
        expect(endsAt(zero, T0, climate)).toBe(T0)
      }),
      { numRuns: runs(200) },
    )
  })

  test('within 1 ms of a whole second is that second; further off a wait is rounded up, a permission down', () => {
    const seconds = fc.integer({ min: 1, max: 36_000 })
    const offMs = fc.double({ min: -499, max: 499, noNaN: true })
    fc.assert(
      fc.property(seconds, offMs, (s, offMs) => {
        fc.pre(Math.abs(Math.abs(offMs) - 1) > 0.01)
        const points = [{ atC: 20, minutes: (s * 1000 + offMs) / MIN }]
        const length = (kind: Wait['kind']) =>
          ((endsAt({ kind, points }, T0, BLIND) ?? 0) - T0) / 1000
        const isThere = Math.abs(offMs) < 1
        expect(length('notBefore')).toBe(isThere || offMs < 0 ? s : s + 1)
        expect(length('notAfter')).toBe(isThere || offMs > 0 ? s : s - 1)
      }),
      { numRuns: runs(300) },
    )
  })

  test('a flash that ends at the moment when damp air comes in has ended', () => {
    // 1 - 0.9 is a hair below 0.1: calculated to the last bit the flash would end after the reading.
    const flash: Wait = {
      kind: 'notBefore',
      points: [{ atC: 20, minutes: 10 }],
      waterborneRhRef: 0.5,
    }
    const damp = (rh: number) => ({ airC: 20, rh })
    const climate: World = {
      stays: [
        {
          fromMs: 0,
          readings: [
            { at: 0, ...damp(0.9) },
            { at: 50 * MIN, ...damp(0.96) },
          ],
        },
      ],
      parts: [],
      staleMs: Number.POSITIVE_INFINITY,
    }
    expect(endsAt(flash, 0, climate)).toBe(50 * MIN)
  })
})
