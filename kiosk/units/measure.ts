import type { Settings } from '../../machines/shop/settingsSchema.ts'

/**
 * What a painter types and reads, in the shop's units; what is stored and calculated with stays SI.
 * What is typed may have a decimal comma. Pure.
 */

type Units = Settings['units']

/** What a number measures: which unit a shop reads and types it in. */
export type Measure =
  /** A shop's air: a figure of the other scale is asked about. */
  | 'airTemperature'
  | 'temperature'
  | 'difference'
  | 'pressure'
  | 'volume'
  /** Read and typed as per cent. */
  | 'fraction'
  | 'plain'

/** What is measured, by the unit that a schema names. */
const MEASURES: Readonly<Record<string, Measure>> = {
  '°C': 'temperature',
  K: 'difference',
  mL: 'volume',
  kPa: 'pressure',
  'kPa gauge': 'pressure',
  fraction: 'fraction',
}
export const measureOf = (unit: string): Measure => MEASURES[unit] ?? 'plain'

/** A unit on the screen and the way from and to the SI number. */
export type Unit = {
  readonly word: string
  readonly fromSi: (si: number) => number
  readonly toSi: (shown: number) => number
  /** What one touch of a stepper adds, in this unit. */
  readonly step: number
  /** Decimals that are written into a form. */
  readonly digits: number
}

export const F_PER_C = 1.8
export const F_AT_0C = 32
export const ML_PER_FL_OZ = 29.5735
export const KPA_PER_BAR = 100
/** 1 bar is 14.5038 psi. */
export const KPA_PER_PSI = KPA_PER_BAR / 14.5038

const scaled = (word: string, siPerUnit: number, step: number, digits: number): Unit => ({
  word,
  fromSi: (si) => si / siPerUnit,
  toSi: (shown) => shown * siPerUnit,
  step,
  digits,
})

const plainUnit = (word: string, step = 1): Unit => scaled(word, 1, step, 6)
const CELSIUS = scaled('°C', 1, 1, 1)
const FAHRENHEIT: Unit = {
  ...CELSIUS,
  word: '°F',
  fromSi: (c) => c * F_PER_C + F_AT_0C,
  toSi: (f) => (f - F_AT_0C) / F_PER_C,
}
/** A difference has no 32 to add: 3 °C are 5.4 °F. */
const FAHRENHEIT_DEGREES = scaled('°F', 1 / F_PER_C, 1, 1)
const BAR = scaled('bar', KPA_PER_BAR, 0.1, 2)
const PSI = scaled('psi', KPA_PER_PSI, 1, 1)
const ML = scaled('mL', 1, 50, 1)
const FL_OZ = scaled('fl oz', ML_PER_FL_OZ, 1, 2)
const PERCENT = scaled('%', 0.01, 1, 2)
const PLAIN = plainUnit('')

/** @param units the shop's choice; what it has not set is °C, mL and bar */
export function unitOf(measure: Measure, units: Units): Unit {
  switch (measure) {
    case 'airTemperature':
    case 'temperature':
      return units?.temperature === 'F' ? FAHRENHEIT : CELSIUS
    case 'difference':
      return units?.temperature === 'F' ? FAHRENHEIT_DEGREES : CELSIUS
    case 'pressure':
      return units?.pressure === 'psi' ? PSI : BAR
    case 'volume':
      return units?.volume === 'flOz' ? FL_OZ : ML
    case 'fraction':
      return PERCENT
    case 'plain':
      return PLAIN
  }
}

/** Binary fractions leave dust: 0.55 in per cent is 55, not 55.00000000000001. */
export const dusted = (value: number): number => Number(value.toPrecision(12))

const NUMBER = /^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)$/

/**
 * A number as typed: digits with at most one comma or point, which both mark the decimals.
 * @returns null for any other text, also for 1,500.5: one of its marks would have to be guessed at
 */
export function readNumber(typed: string): number | null {
  const text = typed.trim().replace('−', '-')
  return NUMBER.test(text) ? Number(text.replace(',', '.')) : null
}

/** A number for a screen: as many digits as a painter can use, in the language's own form. */
export function numberText(value: number, locale: string, digits = 4): string {
  const whole = Math.abs(value) >= 10 ** (digits - 1)
  return (whole ? Math.round(value) : Number(value.toPrecision(digits))).toLocaleString(locale, {
    maximumFractionDigits: digits,
    useGrouping: false,
  })
}

/** Grams: however heavy the mix, the tenths that a bench scale shows stay. */
export const weightText = (g: number, locale: string): string =>
  Math.abs(g) < 1000
    ? numberText(g, locale)
    : g.toLocaleString(locale, { maximumFractionDigits: 1, useGrouping: false })

/**
 * The next whole step from a number that may be between two steps, as a stepper's touch goes on.
 * @param shown in the unit of the step
 * @param by 1 up, -1 down
 */
export function nextStep(shown: number, step: number, by: 1 | -1): number {
  const steps = dusted(shown / step)
  return dusted((by > 0 ? Math.floor(steps) + 1 : Math.ceil(steps) - 1) * step)
}

/** A number as a field shows it, to be typed over; both languages write a decimal point, and a comma is read too. */
export const fieldText = (value: number, digits = 2): string =>
  String(Number(value.toFixed(digits)))

/** What was typed in the shop's unit, in SI. Null for any other text. */
export function parseMeasure(text: string, measure: Measure, units: Units): number | null {
  const typed = readNumber(text)
  return typed === null ? null : dusted(unitOf(measure, units).toSi(typed))
}

/** A stored value as it is written into a form: no unit, no needless zeros. */
export function typedMeasure(stored: number, measure: Measure, units: Units): string {
  const unit = unitOf(measure, units)
  return fieldText(unit.fromSi(stored), unit.digits)
}

/** How a language writes its numbers and dates: Spanish as in Mexico, with a decimal point. */
export const localeOf = (language: string | undefined): string =>
  language === 'es' ? 'es-MX' : 'en-GB'
