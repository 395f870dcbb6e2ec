import fc from 'fast-check'

/**
 * What the random tests start from. `npm test` tries the same cases every time, so that the same
 * commit has the same result everywhere; the long runs try others each time and print what they
 * started from. FLASHBELL_SEED brings any of them back.
 */
fc.configureGlobal({ ...fc.readConfigureGlobal(), seed: Number(process.env.FLASHBELL_SEED ?? 1) })
