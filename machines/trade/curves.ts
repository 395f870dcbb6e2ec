import {
  type IntervalKind,
  minutesAt,
  type Point,
  RH_NO_FLASH,
  RH_REFERENCE,
  waterborneMinutes,
} from '../clock/interval.ts'

export const CURVE_FROM_C = 5
export const CURVE_TO_C = 40

export type Curve = {
  readonly name: string
  readonly kind: IntervalKind
  /** One point a degree from 5 to 40 °C; empty where the air is too damp to flash at all. */
  readonly points: readonly Point[]
}

const degrees = Array.from({ length: CURVE_TO_C - CURVE_FROM_C + 1 }, (_, i) => CURVE_FROM_C + i)

/** An interval's minutes at each degree from 5 to 40 °C. @param points the sheet's, in minutes and °C */
export function intervalCurve(kind: IntervalKind, points: readonly Point[]): Point[] {
  return degrees.map((atC) => ({ atC, minutes: minutesAt(kind, points, atC) }))
}

/**
 * A waterborne flash's minutes at each degree from 5 to 40 °C.
 * @param own the sheet's first point
 * @param rhRef the humidity the sheet's figure is for
 * @param rh relative humidity, 0 to 1; from 95 % on there is no curve
 */
export function waterborneCurve(own: Point, rhRef: number, rh: number): Point[] {
  if (rh >= RH_NO_FLASH) return []
  return degrees.map((atC) => ({ atC, minutes: waterborneMinutes(own, rhRef, atC, rh) }))
}

type Points = readonly Point[]

/** What of a sheet has a curve. A window that is unlimited, or shut until sanded, has none. */
export type SheetTimes = {
  readonly medium?: 'solvent' | 'waterborne' | undefined
  readonly rhRef?: number | undefined
  readonly potLife?: Points | null | undefined
  readonly induction?: Points | undefined
  readonly flashBetween?: Points | undefined
  readonly flashBeforeNext?: Points | undefined
  readonly recoatWithin?: Points | string | undefined
  readonly recoatAgainAfter?: Points | undefined
  readonly cure?: { readonly air?: Points | undefined } | undefined
}

const isFlash = (name: string) => name === 'flashBetween' || name === 'flashBeforeNext'

/**
 * Every interval of a sheet as a curve for a chart, in the order work meets them.
 * @param sheet or, for what an activator carries, the sheet with that activator's figures over it
 * @param airRh the air's humidity for waterborne flashes; the sheet's own reference when left out
 */
export function sheetCurves(sheet: SheetTimes, airRh?: number): Curve[] {
  const rhRef = sheet.rhRef ?? RH_REFERENCE
  const { recoatWithin } = sheet
  const intervals: [string, IntervalKind, Points | null | undefined][] = [
    ['induction', 'notBefore', sheet.induction],
    ['potLife', 'notAfter', sheet.potLife],
    ['flashBetween', 'notBefore', sheet.flashBetween],
    ['flashBeforeNext', 'notBefore', sheet.flashBeforeNext],
    ['recoatWithin', 'notAfter', typeof recoatWithin === 'string' ? null : recoatWithin],
    ['recoatAgainAfter', 'notBefore', sheet.recoatAgainAfter],
    ['cure.air', 'notBefore', sheet.cure?.air],
  ]
  return intervals.flatMap(([name, kind, points]) => {
    const own = points?.[0]
    if (!points || !own) return []
    if (sheet.medium !== 'waterborne' || !isFlash(name)) {
      return [{ name, kind, points: intervalCurve(kind, points) }]
    }
    return [{ name, kind, points: waterborneCurve(own, rhRef, airRh ?? rhRef) }]
  })
}
