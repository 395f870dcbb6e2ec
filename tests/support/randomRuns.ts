const isLong = Boolean(process.env.FLASHBELL_LONG)

const share = Number(process.env.FLASHBELL_SHARE ?? 1)

/** How often a random test tries: `npm run test:long` tries twenty times as often, FLASHBELL_SHARE a part of that. */
export const runs = (times: number): number => (isLong ? Math.ceil(20 * share * times) : times)

/** How long a random test may take before it is given up. Nothing is judged by it. */
export const patience = isLong ? 2_400_000 : 240_000

/** Tries of a random test. A failure is made smaller for a while, then shown as far as it came. */
export const tries = (times: number) => ({
  numRuns: runs(times),
  interruptAfterTimeLimit: patience / 3,
})
