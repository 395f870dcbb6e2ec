import type { Draft } from '../envelope.ts'

/**
 * Whether a gun stands as it does whatever was before some entries of it, none of them voided: it was cleaned, and
 * cleaned again of something else. What its last cleaning was of is then told by them too, and whatever was in it
 * before the first of these, a load was taken; a rinsing is not in every state.
 */
export function isPastForgotten(live: readonly Draft[]): boolean {
  const isCleaning = ({ type }: Draft) => type === 'GunCleaned'
  const isLoad = ({ data }: Draft) => 'load' in data
  const past = live.filter(({ type }) => type !== 'GunSaved')
  const first = past.findIndex(isCleaning)
  const last = past.findLastIndex(isCleaning)
  return past.slice(0, first).every(isLoad) && past.slice(first, last).some(isLoad)
}
