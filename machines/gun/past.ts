import type { Draft } from '../envelope.ts'

/**
 * Whether a gun stands as it does whatever was before some entries of it, none of them voided: it was cleaned, and
 * cleaned again of something else, so that these also tell what its last cleaning was of. Before the first of these
 * cleanings nothing but loads: every state takes a load, not every one a rinsing.
 */
export function isPastForgotten(live: readonly Draft[]): boolean {
  const isCleaning = ({ type }: Draft) => type === 'GunCleaned'
  const isLoad = ({ data }: Draft) => 'load' in data
  const past = live.filter(({ type }) => type !== 'GunSaved')
  const first = past.findIndex(isCleaning)
  const last = past.findLastIndex(isCleaning)
  return past.slice(0, first).every(isLoad) && past.slice(first, last).some(isLoad)
}
