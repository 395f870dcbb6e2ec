import type { Pictogram } from './payload.ts'

/**
 * Black diamonds with drawings of our own for three hazards of the GHS. Each is a path in a square of
 * 100 by 100, filled by the even-odd rule. Red frames are for shipped packages; at work black on white
 * is the employer's choice.
 */

/** The frame: a square on its corner, its line 6 wide. */
const DIAMOND = 'M50 0 100 50 50 100 0 50ZM50 9 9 50 50 91 91 50Z'

const FLAME =
  'M49 19C52 29 66 36 66 52 66 64 59 70 50 70 41 70 34 64 34 53 34 46 38 41 41 36 42 41 44 43 46 44 49 37 46 27 49 19Z' +
  'M50 66C55 66 58 63 58 58 58 53 53 51 52 45 47 49 43 53 43 58 43 63 46 66 50 66Z' +
  'M35 73H65V78H35Z'

const EXCLAMATION = 'M43 22H57L54.5 60H45.5ZM50 65A7 7 0 0 1 50 79A7 7 0 0 1 50 65Z'

/** A head and shoulders with a star over the chest. */
const HEALTH_HAZARD =
  'M50 14A8.5 8.5 0 0 1 50 31A8.5 8.5 0 0 1 50 14Z' +
  'M41 33H59Q71 33 71 45V68H29V45Q29 33 41 33Z' +
  'M50 36 53 45.8 62.1 44 56 51 62.1 58 53 56.2 50 66 47 56.2 37.9 58 44 51 37.9 44 47 45.8Z'

export const PICTOGRAM_PATHS: { readonly [P in Pictogram]: string } = {
  flame: DIAMOND + FLAME,
  exclamation: DIAMOND + EXCLAMATION,
  healthHazard: DIAMOND + HEALTH_HAZARD,
}
/** The side of the square that the paths are drawn in. */
export const PICTOGRAM_UNITS = 100
