import * as v from 'valibot'
import { crossFieldCheck } from '../crossFieldCheck.ts'
import { sortedByKind } from './between.ts'
import { contradictionIn } from './contradictions.ts'
import { withLampMinutes } from './lamp.ts'
import { type Sheet, sheetFields } from './schema.ts'

/**
 * A product's technical data as its maker publishes it, typed in. What a clock, a cup or a gate
 * needs is demanded; the rest may be typed later, and its absence is said where it matters. What
 * contradicts itself is not taken.
 */
export const sheetSchema = v.pipe(
  sheetFields,
  v.transform(sortedByKind<v.InferOutput<typeof sheetFields>>),
  v.transform(withLampMinutes),
  crossFieldCheck<Sheet>(contradictionIn),
)
