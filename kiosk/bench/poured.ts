import { readWeight } from '../device/weight.ts'

export type Reading =
  | { readonly kind: 'poured'; readonly g: number }
  | { readonly kind: 'wrong'; readonly code: 'noNumber' | 'tooMuch' | 'tooFew' }

/**
 * What a new reading says was poured.
 * @param before what the scale showed before, g
 */
export function pouredBy(text: string, before: number): Reading {
  const read = readWeight(text)
  if (read.kind !== 'weight') return { kind: 'wrong', code: read.kind }
  const g = Number((read.g - before).toFixed(3))
  return g < 0 ? { kind: 'wrong', code: 'tooFew' } : { kind: 'poured', g }
}
