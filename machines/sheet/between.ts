import * as v from 'valibot'
import { above0, fields, oneOf } from '../accept.ts'
import { type Point, pointsSchema } from '../clock/interval.ts'

/**
 * The flash between coats of one product by the kind of the coat to come: minutes at temperatures, or
 * a word. "intoWet" has no wait, "matte" waits for the eye.
 */

/** `heavy`: wetter than planned. */
export const COAT_KINDS = ['full', 'light', 'drop', 'blend', 'heavy'] as const
export type CoatKind = (typeof COAT_KINDS)[number]

const wordSchema = oneOf(['intoWet', 'matte'])
const figureSchema = v.lazy((given) => (typeof given === 'string' ? wordSchema : pointsSchema))

/** What is not given is as for a full coat. */
export const kindsSchema = fields({
  full: v.optional(wordSchema),
  light: v.optional(figureSchema),
  drop: v.optional(figureSchema),
  blend: v.optional(figureSchema),
  /** Into wet only so long after the coat before: later the film is neither wet nor dry. */
  withinMin: v.optional(above0(1_440, 'min')),
})

/** One figure for every kind of coat, or one for each, of which the full one has to be there. */
export const flashBetweenSchema = v.lazy((given) =>
  typeof given === 'object' && given !== null && !Array.isArray(given)
    ? fields({ ...kindsSchema.entries, full: figureSchema })
    : pointsSchema,
)

/** What a shop says of a drop coat where the sheet does not: over what it is sprayed. */
export const DROP_OVER = ['wet', 'halfMatte', 'matte'] as const
export type DropOver = (typeof DROP_OVER)[number]

export type BetweenFigure = readonly Point[] | 'intoWet' | 'matte'
export type Kinds = v.InferOutput<typeof kindsSchema>
type Given = v.InferOutput<typeof flashBetweenSchema>
type Points = v.InferOutput<typeof pointsSchema>

type Unsorted = {
  flashBetween: Given
  flashBeforeNext: Points
  flashByKind?: Kinds | undefined
}

/**
 * A sheet of which `flashBetween` is the full coat's minutes, and the rest `flashByKind`. Into wet there
 * are no minutes; until it is matte they are a forecast, for which the flash before the next product is
 * taken.
 */
export function sortedByKind<S extends Unsorted>(
  sheet: S,
): Omit<S, 'flashBetween'> & { flashBetween: Points } {
  const { flashBetween: given } = sheet
  if (Array.isArray(given)) return { ...sheet, flashBetween: given }
  const { full, ...others } = given
  if (typeof full !== 'string') return { ...sheet, flashBetween: full, flashByKind: others }
  const flashBetween = full === 'matte' ? sheet.flashBeforeNext : [{ atC: 20, minutes: 0 }]
  return { ...sheet, flashBetween, flashByKind: given }
}

/** Over a half-matte coat: half of what a full coat waits. Common practice, no source. */
export const halved = (points: readonly Point[]): readonly Point[] =>
  points.map(({ atC, minutes }) => ({ atC, minutes: minutes / 2 }))
