import type { Json } from '../../machines/envelope.ts'
import type { Words } from '../words/en.ts'
import type { Format } from './format.ts'

type Say = { readonly words: Words; readonly format: Format }

export const isRecord = (value: Json | undefined): value is { readonly [key: string]: Json } =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

/** The air that was found, or what a sheet allows of it: "12.0 °C 50 %", "from 15.0 °C up to 85 %". */
export function airText(value: { readonly [key: string]: Json }, { words, format }: Say): string {
  const { airC, rh, minC, maxC, maxRh } = value
  const { history } = words.jobs
  return [
    typeof airC === 'number' ? format.temperature(airC) : '',
    typeof rh === 'number' ? format.humidity(rh) : '',
    typeof minC === 'number' ? history.from(format.temperature(minC)) : '',
    typeof maxC === 'number' ? history.upTo(format.temperature(maxC)) : '',
    typeof maxRh === 'number' ? history.upTo(format.humidity(maxRh)) : '',
  ]
    .filter((text) => text !== '')
    .join(' ')
}
