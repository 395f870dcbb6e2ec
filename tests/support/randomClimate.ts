import fc from 'fast-check'
import type { Air, Figure, Range, Wait, World } from './randomIntervals.ts'

/** Sheets' figures, air and surfaces as a shop might meet them, for random tests. */

export const T0 = Date.UTC(2026, 0, 5, 8)
const HOUR_MS = 3_600_000

const minutes = fc.oneof(
  fc.integer({ min: 1, max: 40 }),
  fc.double({ min: 0.5, max: 40, noNaN: true }),
)
export const airC = fc.oneof(
  fc.integer({ min: 5, max: 40 }),
  fc.double({ min: 5, max: 40, noNaN: true }),
)

/** Temperatures at least half a degree apart, in any order: the sheet's own figure need not be the coldest. */
const temperatures = fc
  .uniqueArray(fc.integer({ min: 10, max: 80 }), { minLength: 1, maxLength: 4 })
  .map((halves) => halves.map((h) => h / 2))

/** Any figures that a sheet may give, also those that grow with heat. */
export const anyPoints: fc.Arbitrary<Figure[]> = temperatures.chain((temps) =>
  fc.tuple(...temps.map((atC) => minutes.map((m) => ({ atC, minutes: m })))),
)

/** Figures of chemistry that makes sense: warmer is faster. */
export const sanePoints: fc.Arbitrary<Figure[]> = anyPoints.map((points) => {
  const fastFirst = points.map((p) => p.minutes).sort((a, b) => a - b)
  const warmFirst = points.map((p) => p.atC).sort((a, b) => b - a)
  return points.map((p) => ({ ...p, minutes: fastFirst[warmFirst.indexOf(p.atC)] as number }))
})

const rh = fc.oneof(
  { weight: 8, arbitrary: fc.double({ min: 0.2, max: 0.9, noNaN: true }) },
  { weight: 1, arbitrary: fc.constantFrom(0.95, 0.97, 1) },
)

const within = (fromH: number, toH: number) =>
  fc.integer({ min: T0 + fromH * HOUR_MS, max: T0 + toH * HOUR_MS })

const readings: fc.Arbitrary<Air[]> = fc
  .array(fc.record({ at: within(-1, 2), airC, rh }), { maxLength: 8 })
  .map((all) => all.sort((a, b) => a.at - b.at))

/** What somebody said of a day's air. */
const ranges: fc.Arbitrary<Range[]> = fc
  .array(
    fc.record({
      at: within(-1, 2),
      hours: fc.integer({ min: 1, max: 3 }),
      minC: airC,
      spanC: fc.integer({ min: 0, max: 12 }),
      rhMax: fc.option(rh, { nil: undefined }),
    }),
    { maxLength: 2 },
  )
  .map((all) =>
    all
      .map(({ at, hours, minC, spanC, rhMax }) => ({
        at,
        untilMs: at + hours * HOUR_MS,
        minC,
        maxC: minC + spanC,
        ...(rhMax === undefined ? {} : { rhMax }),
      }))
      .sort((a, b) => a.at - b.at),
  )

export const world: fc.Arbitrary<World> = fc
  .record({
    first: fc.record({ fromMs: within(-1, 0.25), readings, ranges }),
    moves: fc.array(fc.record({ fromMs: within(-0.5, 1), readings }), { maxLength: 2 }),
    parts: fc.array(fc.record({ at: within(-0.5, 1), partC: airC }), { maxLength: 3 }),
    staleMs: fc.constantFrom(30 * 60_000, 30 * 60_000, Number.POSITIVE_INFINITY),
  })
  .map(({ first, moves, parts, staleMs }) => ({
    stays: [
      first,
      ...moves.filter((m) => m.fromMs > first.fromMs).sort((a, b) => a.fromMs - b.fromMs),
    ],
    parts: parts.sort((a, b) => a.at - b.at),
    staleMs,
  }))

const kind = fc.constantFrom('notBefore' as const, 'notAfter' as const)

/** A wait by a sheet's figures, or a waterborne flash. */
export const wait = (points: fc.Arbitrary<Figure[]>): fc.Arbitrary<Wait> =>
  fc.oneof(
    { weight: 3, arbitrary: fc.record({ kind, points }) },
    {
      weight: 3,
      arbitrary: fc.record({ kind, points, nearWhenBlind: fc.constant(true as const) }),
    },
    {
      weight: 1,
      arbitrary: fc.record({
        kind: fc.constant('notBefore' as const),
        points,
        waterborneRhRef: fc.double({ min: 0.3, max: 0.8, noNaN: true }),
      }),
    },
  )
