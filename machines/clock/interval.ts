import * as v from 'valibot'
import { fields, list, number } from '../accept.ts'
import { rule } from '../contract/wrongField.ts'
import { saturationHpa } from './moistAir.ts'

/** One figure of a sheet: minutes at a temperature in °C. */
export type Point = { readonly atC: number; readonly minutes: number }

/** A not-before (flash, induction, air cure) ends a wait; a not-after (pot life, window) ends a permission. */
export type IntervalKind = 'notBefore' | 'notAfter'

const MINUTES_MOST = 527_040 // 366 days: longer than any window a sheet prints
// Makers print whole degrees. Two points a hair apart are a slip, and a slope that nothing follows.
const APART_C = 0.5
// 20.6 - 20.1 may come out a hair below 0.5.
const HAIR_C = 1e-9
const pointsRule = rule('points', { apartC: APART_C })

function areApart(temps: readonly number[]): boolean {
  const sorted = temps.toSorted((a, b) => a - b)
  return sorted.every((t, i) => i === 0 || t - (sorted[i - 1] as number) >= APART_C - HAIR_C)
}

/** Points as a sheet gives them. The first is the sheet's own figure. */
export const pointsSchema = v.pipe(
  list(fields({ atC: number(-10, 90, '°C'), minutes: number(0, MINUTES_MOST, 'min') }), 1, 12),
  v.check((points) => {
    const areZero = points.filter((p) => p.minutes === 0).length
    return areApart(points.map((p) => p.atC)) && (areZero === 0 || areZero === points.length)
  }, pointsRule),
)

const KELVIN = 273.15
/** A steep curve followed far into the cold overflows: a wait of a hundred years is long enough. */
const CENTURY_MIN = 100 * MINUTES_MOST

/** ln(minutes) is linear in 1/T (kelvin) through two points: the Arrhenius equation. */
function through(a: Point, b: Point, atC: number): number {
  const x = (tempC: number) => 1 / (tempC + KELVIN)
  const slope = (Math.log(b.minutes) - Math.log(a.minutes)) / (x(b.atC) - x(a.atC))
  return Math.min(CENTURY_MIN, Math.exp(Math.log(a.minutes) + slope * (x(atC) - x(a.atC))))
}

/** The more cautious of two lengths: the longer wait, the shorter permission. */
export function moreCautious(kind: IntervalKind, a: number, b: number): number {
  return kind === 'notBefore' ? Math.max(a, b) : Math.min(a, b)
}

/**
 * Length in minutes of a sheet's interval at a temperature.
 *
 * Between two points ln(minutes) is linear in 1/T. One point doubles per 10 °C colder (UFGS-09971
 * 3.7.1.3 states the rule for pot life). Outside the sheet's own range the curve is followed only
 * towards caution: a not-before never falls below its end figure, a not-after never rises above it.
 *
 * @param kind what the interval is for
 * @param points the sheet's, as pointsSchema accepts them
 * @param atC temperature in °C
 * @returns minutes, finite; zero when the sheet asks for no wait
 */
export function minutesAt(kind: IntervalKind, points: readonly Point[], atC: number): number {
  const sorted = points.toSorted((a, b) => a.atC - b.atC)
  const coldest = sorted[0] as Point
  const warmest = sorted.at(-1) as Point
  if (coldest.minutes === 0) return 0
  const exact = sorted.find((p) => p.atC === atC)
  if (exact) return exact.minutes
  if (sorted.length === 1) {
    return moreCautious(kind, coldest.minutes, coldest.minutes * 2 ** ((coldest.atC - atC) / 10))
  }
  if (atC < coldest.atC) {
    return moreCautious(kind, coldest.minutes, through(coldest, sorted[1] as Point, atC))
  }
  if (atC > warmest.atC) {
    return moreCautious(kind, warmest.minutes, through(sorted.at(-2) as Point, warmest, atC))
  }
  const upper = sorted.findIndex((p) => p.atC > atC)
  return through(sorted[upper - 1] as Point, sorted[upper] as Point, atC)
}

/** From this relative humidity on a waterborne film is taken not to flash at all. */
export const RH_NO_FLASH = 0.95
export const RH_REFERENCE = 0.5

/**
 * Length in minutes of a waterborne flash: the sheet's first figure, stretched by how much less
 * water the air can take up than at the sheet's reference. Never less than the sheet's figure.
 *
 * @param own the sheet's first point; its atC is the reference temperature
 * @param rhRef the sheet's reference humidity, 0 to below 1
 * @param atC temperature in °C
 * @param rh relative humidity, 0 to 1
 * @returns minutes; Infinity from 95 % RH on
 */
export function waterborneMinutes(own: Point, rhRef: number, atC: number, rh: number): number {
  if (own.minutes === 0) return 0
  if (rh >= RH_NO_FLASH) return Number.POSITIVE_INFINITY
  const reference = saturationHpa(own.atC) * (1 - rhRef)
  return own.minutes * Math.max(1, reference / (saturationHpa(atC) * (1 - rh)))
}

/** A film that is not as warm as the air and dries at this share of the reference or less is taken not to flash. */
const LEAST_POWER = 0.05

/**
 * The same by all that the sheet says: never less than what is typed for that temperature, and from
 * a film that is colder or warmer than the air as much water goes as its own vapor pressure allows.
 *
 * @param points the sheet's; the first is the reference
 * @param atC temperature of the film in °C
 * @param air its temperature in °C, and its relative humidity, 0 to 1
 * @returns minutes; Infinity where it does not flash
 */
export function waterborneTableMinutes(
  points: readonly Point[],
  rhRef: number,
  atC: number,
  air: { readonly airC: number; readonly rh: number },
): number {
  const own = points[0] as Point
  const typed = points.length > 1 ? minutesAt('notBefore', points, atC) : 0
  const inAir = waterborneMinutes(own, rhRef, atC, air.rh)
  if (atC === air.airC || own.minutes === 0) return Math.max(typed, inAir)
  const reference = saturationHpa(own.atC) * (1 - rhRef)
  const power = (saturationHpa(atC) - air.rh * saturationHpa(air.airC)) / reference
  if (air.rh >= RH_NO_FLASH || power <= LEAST_POWER) return Number.POSITIVE_INFINITY
  return Math.max(typed, own.minutes * Math.max(1, 1 / power))
}
