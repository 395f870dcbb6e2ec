import { scaleLinear, scaleLog } from 'd3-scale'
import type { Curve } from '../../machines/trade/curves.ts'
import { F_AT_0C, F_PER_C } from '../units/measure.ts'

/** The positions of a curve's lines, marks and words in a small picture. Pure. */

export const WIDTH = 380
export const HEIGHT = 220
const LEFT = 76
const RIGHT = 30
const TOP = 12
const BOTTOM = 40
const FROM_C = 5
const TO_C = 40

type Tick = { readonly at: number; readonly word: string }
type Drawing = {
  readonly line: string
  readonly marks: readonly { readonly x: number; readonly y: number }[]
  readonly xTicks: readonly Tick[]
  readonly yTicks: readonly Tick[]
}

type Point = { readonly atC: number; readonly minutes: number }

const inF = (atC: number): number => atC * F_PER_C + F_AT_0C

/** Temperatures from left to right, in the shop's unit. */
const temperatures = (isF: boolean) =>
  scaleLinear(isF ? [inF(FROM_C), inF(TO_C)] : [FROM_C, TO_C], [LEFT, WIDTH - RIGHT])

/** Minutes that people say: parts of a minute, of an hour, hours, days. A scale's own ticks know tens only. */
const ROUND: readonly number[] = [
  ...[0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60, 120, 240, 480, 960],
  ...[1, 2, 4, 7, 14, 30, 60, 120, 240, 480, 960].map((days) => days * 1_440),
]

/** Round minutes that lie within a stretch, and one about it at either end. */
function roundMinutes(least: number, most: number): number[] {
  const from = ROUND.findLastIndex((t) => t <= least * 1.0001)
  const to = ROUND.findIndex((t) => t >= most * 0.9999)
  const within = ROUND.slice(Math.max(0, from), to < 0 ? ROUND.length : to + 1)
  // A flat line still wants ground above and below.
  return within.length > 1 ? within : ROUND.slice(Math.max(0, from - 1), from + 2)
}

/** The most labels on an axis: more would run into one another, so some are left out evenly. */
const thinned = (ticks: readonly number[], most: number): readonly number[] => {
  const every = Math.ceil(ticks.length / most)
  return ticks.filter((_, i) => (ticks.length - 1 - i) % every === 0)
}

/** A length in minutes, in few letters. */
export function minutesWord(minutes: number): string {
  const plain = (n: number) => String(Number(n.toPrecision(3)))
  if (minutes <= 60) return `${plain(minutes)} min`
  if (minutes < 24 * 60) return `${plain(minutes / 60)} h`
  return `${plain(minutes / 1440)} d`
}

/**
 * A curve as a drawing, minutes on a logarithmic scale: chemistry doubles, it does not add.
 * @param own the sheet's own points, marked where they lie between 5 and 40 °C
 * @returns null for a curve without a line: no wait at all, or air too damp for any
 */
export function drawing(curve: Curve, own: readonly Point[], isF: boolean): Drawing | null {
  const minutes = curve.points.map((p) => p.minutes)
  const least = Math.min(...minutes)
  const most = Math.max(...minutes)
  if (curve.points.length === 0 || least <= 0 || !Number.isFinite(most)) return null
  const ticks = roundMinutes(least, most)
  const x = temperatures(isF)
  const y = scaleLog([ticks[0] ?? least, ticks.at(-1) ?? most], [HEIGHT - BOTTOM, TOP])
  const at = ({ atC, minutes: m }: Point) => ({ x: x(isF ? inF(atC) : atC), y: y(m) })
  return {
    line: curve.points
      .map(at)
      .map(({ x, y }, i) => `${i === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`)
      .join(''),
    marks: own.filter((p) => p.atC >= FROM_C && p.atC <= TO_C).map(at),
    xTicks: x
      .ticks(4)
      .map((degrees) => ({ at: x(degrees), word: `${degrees} ${isF ? '°F' : '°C'}` })),
    yTicks: thinned(ticks, 5).map((m) => ({ at: y(m), word: minutesWord(m) })),
  }
}

/** Lines of the picture's frame. */
export const FRAME = { left: LEFT, right: WIDTH - RIGHT, top: TOP, bottom: HEIGHT - BOTTOM }
