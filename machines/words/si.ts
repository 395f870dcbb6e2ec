import type { Figures, Words } from './types.ts'

/** Figures in SI units, as the API and the command line write them. */

/** A length as a sentence wants it: "3 min 20 s". */
export function lengthText(ms: number): string {
  const seconds = Math.max(0, Math.round(ms / 1000))
  const h = Math.floor(seconds / 3600)
  const min = Math.floor((seconds % 3600) / 60)
  const s = seconds % 60
  const parts = [
    h > 0 ? `${h} h` : '',
    min > 0 ? `${min} min` : '',
    s > 0 && h === 0 ? `${s} s` : '',
  ]
  return parts.filter((part) => part !== '').join(' ') || '0 s'
}

const hundredths = (value: number): number => Math.round(value * 100) / 100

/**
 * @param now UTC ms, for lengths: how long ago something was, how long it is to go
 * @param instant writes day and time: there is no calendar here
 */
export const siFigures = (words: Words, now: number, instant: Figures['instant']): Figures => ({
  ago: (atMs) => lengthText(now - atMs),
  toGo: (atMs) => lengthText(atMs - now),
  instant,
  utcMs: (atMs) => `${atMs}, UTC ms`,
  temperature: (c) => `${c} °C`,
  degrees: (c) => `${hundredths(c)} °C`,
  humidity: (rh) => `${Math.round(rh * 100)} % RH`,
  volume: (ml) => `${ml} mL`,
  grams: (g) => `${g} g`,
  name: (code) => code,
  panel: (id, name) => name ?? id,
  measured: (values, unit) => ({
    values: values.map(String),
    unit: unit === undefined ? undefined : words.unit(unit),
  }),
})
