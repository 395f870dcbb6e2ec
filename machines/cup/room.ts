import type { Problem } from '../refusals.ts'

/** What two people read off one cup may differ by this share, and this much besides. Common practice, no source. */
const SHARE = 0.05
const BESIDES_ML = 10

/**
 * That more was taken out of a cup than it can hold.
 * @param roomMl what it holds by what was weighed or typed
 * @param takenMl what was weighed or typed of what was taken: an estimate is not asked about
 */
export const roomProblems = (about: string, roomMl: number, takenMl: number): Problem[] =>
  takenMl > roomMl * (1 + SHARE) + BESIDES_ML
    ? [{ code: 'noRoom', limit: roomMl, value: takenMl, about }]
    : []
