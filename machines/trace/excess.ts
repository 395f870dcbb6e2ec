import type { Json } from '../envelope.ts'

/** By how much a limit was broken, in the unit of what is limited. */
export type Excess = {
  readonly amount: number
  readonly unit: 'ms' | 'C' | 'rh' | 'um' | 'coats' | 'mL' | 'amount'
  /** Of the limit, or of the whole wait where that is a moment; null where nothing can be said. */
  readonly share: number | null
}

/** One limit and what was found: air outside its range may be too cold and too damp at once. */
export type Breach = {
  readonly limit: Json
  readonly value: Json
  readonly excess: Excess | null
  /** Which end of a range was broken. */
  readonly side?: 'low' | 'high' | 'humid'
}

/** Codes whose limit and value are moments, UTC ms. */
const MOMENTS: readonly string[] = [
  'windowShut',
  'flashNotOver',
  'lookFirst',
  'cleanerWet',
  'notReady',
  'sandEarly',
  'inductionNotOver',
  'potLifeOver',
  'keepOver',
  'cureNotOver',
  'wetInZone',
]
const UNITS: Readonly<Record<string, Excess['unit']>> = {
  dewPoint: 'C',
  partTemp: 'C',
  overheated: 'C',
  vehicleLimit: 'C',
  filmOver: 'um',
  tooManyCoats: 'coats',
  tooFewCoats: 'coats',
  noRoom: 'mL',
}

type Range = { readonly [key: string]: Json }
const isRange = (value: Json): value is Range =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
const numberIn = (range: Range, key: string): number | null =>
  typeof range[key] === 'number' ? (range[key] as number) : null

/** Off the nearer end of a range. */
function beyond(
  value: number,
  least: number | null,
  most: number | null,
  unit: Excess['unit'],
): Breach[] {
  const of = (limit: number, side: 'low' | 'high'): Breach => {
    const amount = Math.abs(value - limit)
    // Degrees have no zero that a share could be taken of.
    const share = unit === 'C' || limit === 0 ? null : amount / limit
    return { limit, value, side, excess: { amount, unit, share } }
  }
  if (least !== null && value < least) return [of(least, 'low')]
  return most !== null && value > most ? [of(most, 'high')] : []
}

function ofAir(limit: Range, value: Range): Breach[] {
  const [airC, rh] = [numberIn(value, 'airC'), numberIn(value, 'rh')]
  const maxRh = numberIn(limit, 'maxRh')
  const warmth =
    airC === null ? [] : beyond(airC, numberIn(limit, 'minC'), numberIn(limit, 'maxC'), 'C')
  const damp = rh !== null && maxRh !== null && rh > maxRh ? rh - maxRh : null
  if (damp === null) return warmth
  const excess = { amount: damp, unit: 'rh' as const, share: null }
  return [...warmth, { limit: maxRh, value: rh, side: 'humid', excess }]
}

/**
 * What of a limit was broken and by how much.
 * @param begunAt when the wait or the clock began whose end is the limit, UTC ms; null where that is not known
 * @returns at least one
 */
export function breachesOf(
  { code, limit, value }: { readonly code: string; readonly limit: Json; readonly value: Json },
  begunAt: number | null,
): readonly Breach[] {
  const whole: Breach = { limit, value, excess: null }
  const found = (() => {
    if (isRange(limit)) {
      if (isRange(value)) return ofAir(limit, value)
      if (typeof value !== 'number') return []
      return code === 'ratioOff'
        ? beyond(value, numberIn(limit, 'least'), numberIn(limit, 'most'), 'amount')
        : beyond(value, numberIn(limit, 'minC'), numberIn(limit, 'maxC'), 'C')
    }
    if (typeof limit !== 'number' || typeof value !== 'number') return []
    const amount = Math.abs(value - limit)
    if (MOMENTS.includes(code)) {
      const length = begunAt === null ? 0 : limit - begunAt
      return [{ ...whole, excess: { amount, unit: 'ms' as const, share: shareOf(amount, length) } }]
    }
    const unit = UNITS[code] ?? 'amount'
    return [
      { ...whole, excess: { amount, unit, share: unit === 'C' ? null : shareOf(amount, limit) } },
    ]
  })()
  return found.length > 0 ? found : [whole]
}

const shareOf = (amount: number, whole: number): number | null =>
  whole > 0 ? amount / whole : null
