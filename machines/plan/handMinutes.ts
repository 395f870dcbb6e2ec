import type { WORKS } from '../panel/context.ts'

/**
 * Minutes by hand on one panel, until the shop's own work says something else. Common practice, no source;
 * for forecasts only.
 */
export const HAND_MIN = {
  degrease: 5,
  fill: 40,
  isolate: 10,
  guideCoat: 5,
  abrade: 20,
  tack: 3,
  mask: 20,
  unmask: 10,
  purge: 5,
  prep: 25,
  sand: 25,
  polish: 30,
} as const satisfies { readonly [W in (typeof WORKS)[number] | 'prep' | 'sand' | 'polish']: number }

export type HandWork = keyof typeof HAND_MIN

export const isHandWork = (work: string): work is HandWork => Object.hasOwn(HAND_MIN, work)
