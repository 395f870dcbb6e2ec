import type { Settings } from '../../machines/shop/settingsSchema.ts'

/**
 * What a painter types and reads, in the shop's units; all calculations stay in SI. Pure.
 */

type Units = NonNullable<Settings['units']>
/** Kinds of number that a shop may choose a unit for, or that read better as per cent. */
export type Quantity = 'temperature' | 'difference' | 'volume' | 'pressure' | 'fraction'

/** A unit on the screen and the way from and to the SI number. */
export type Unit = {
  readonly word: string
  readonly fromSi: (si: number) => number
  readonly toSi: (shown: number) => number
  /** What one touch of a stepper adds, in this unit. */
  readonly step: number
}

const F_PER_C = 1.8
const ML_PER_FL_OZ = 29.5735
const KPA_PER_BAR = 100
/** 1 bar = 14.5038 psi. */
const KPA_PER_PSI = KPA_PER_BAR / 14.5038

const scaled = (word: string, siPerUnit: number, step: number): Unit => ({
  word,
  fromSi: (si) => si / siPerUnit,
  toSi: (shown) => shown * siPerUnit,
  step,
})

export const plainUnit = (word: string, step = 1): Unit => scaled(word, 1, step)
const PERCENT = scaled('%', 0.01, 1)
const FAHRENHEIT: Unit = {
  word: '°F',
  fromSi: (c) => c * F_PER_C + 32,
  toSi: (f) => (f - 32) / F_PER_C,
  step: 1,
}

/** @param units the shop's choice; what it has not set is °C, mL and bar */
export function unitOf(quantity: Quantity, units: Units = {}): Unit {
  const isF = units.temperature === 'F'
  switch (quantity) {
    case 'temperature':
      return isF ? FAHRENHEIT : plainUnit('°C')
    case 'difference':
      // A difference has no 32 to add: 3 °C are 5.4 °F.
      return isF ? scaled('°F', 1 / F_PER_C, 1) : plainUnit('°C')
    case 'volume':
      return units.volume === 'flOz' ? scaled('fl oz', ML_PER_FL_OZ, 1) : plainUnit('mL', 50)
    case 'pressure':
      return units.pressure === 'psi'
        ? scaled('psi', KPA_PER_PSI, 1)
        : scaled('bar', KPA_PER_BAR, 0.1)
    case 'fraction':
      return PERCENT
  }
}

/** Binary fractions leave dust: 0.55 in per cent is 55, not 55.00000000000001. */
export const dusted = (value: number): number => Number(value.toPrecision(12))

const NUMBER = /^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)$/

/**
 * A number as it was typed. Point and comma both mark the decimals: thousands are not separated.
 * @returns null for an empty field or text that is not a number
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

/** A number as a field shows it, to be typed over, with the language's own decimal sign. */
export const fieldText = (value: number, decimal: string, digits = 2): string =>
  String(Number(value.toFixed(digits))).replace('.', decimal)

/** How a language writes its numbers and dates: Spanish as in Mexico, with a decimal point. */
export const localeOf = (language: string | undefined): string =>
  language === 'es' ? 'es-MX' : 'en-GB'
