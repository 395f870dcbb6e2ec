/** How often a random test tries: `npm run test:long` tries twenty times as often. */
export const runs = (times: number): number => (process.env.FLASHBELL_LONG ? 20 * times : times)
