import * as v from 'valibot'
import { fields, number, text, yesNo } from '../accept.ts'
import { rule } from '../contract/wrongField.ts'

/**
 * How loud the bells are where the work is, as measured when a kiosk was commissioned.
 * Levels are dB(A) at the ear of the person who works there, with the booth's fan running as at work.
 */

/** The signal is to be above the ambient by this, dB(A); or one third-octave of it by the other, dB. */
export const LEAST_OVER_DB = 10
export const LEAST_THIRD_OCTAVE_DB = 13
export const TARGET_OVER_DB = 15
/** No bell is louder than this at any ear, dB(A). */
export const MOST_DB = 100
/** Above this the site must have signed off, dB(A). */
export const SIGN_OFF_ABOVE_DB = 90

const signedOff = rule('signedOff', { aboveDb: SIGN_OFF_ABOVE_DB })

export const levelSchema = v.pipe(
  fields({
    place: text(60),
    ambientDb: number(20, 130, 'dB(A)'),
    /** The cap is an exposure limit: what is above it is turned down, not recorded. */
    signalDb: number(20, MOST_DB, 'dB(A)'),
    /** How far the signal is above ambient in its best third-octave. */
    thirdOctaveDb: v.optional(number(-60, 90, 'dB')),
    siteSignedOff: v.optional(yesNo),
  }),
  v.forward(
    v.partialCheck(
      [['signalDb'], ['siteSignedOff']],
      ({ signalDb, siteSignedOff }) => signalDb <= SIGN_OFF_ABOVE_DB || siteSignedOff === true,
      signedOff,
    ),
    ['siteSignedOff'],
  ),
)
export type Level = v.InferOutput<typeof levelSchema>

export type LevelVerdict = {
  readonly passes: boolean
  /** The target above that, where the cap allows it. */
  readonly reachesTarget: boolean
  /** Signal over ambient, dB(A). */
  readonly overDb: number
}

/** Whether a bell is heard at a place: a rule of thumb of the requirement, not of the ear. */
export function levelVerdict({ ambientDb, signalDb, thirdOctaveDb }: Level): LevelVerdict {
  const overDb = signalDb - ambientDb
  return {
    passes: overDb >= LEAST_OVER_DB || (thirdOctaveDb ?? 0) >= LEAST_THIRD_OCTAVE_DB,
    reachesTarget: overDb >= TARGET_OVER_DB,
    overDb,
  }
}

/** What a bell may be at any ear, dB(A): what the site signed off, or what needs no signing. */
const capDb = ({ siteSignedOff }: Level): number => (siteSignedOff ? MOST_DB : SIGN_OFF_ABOVE_DB)

/**
 * How much louder than commissioned a bell may get, dB: at no place above its cap. The loudest place
 * binds every kiosk, for a level does not say which of them is heard there.
 * @returns Infinity where no level was commissioned
 */
export const mostRiseDb = (levels: readonly Level[]): number =>
  Math.max(0, Math.min(...levels.map((level) => capDb(level) - level.signalDb)))
