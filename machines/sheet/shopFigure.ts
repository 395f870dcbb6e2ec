import * as v from 'valibot'
import { fields, id40, oneOf } from '../accept.ts'
import { rule } from '../contract/wrongField.ts'
import { DROP_OVER } from './between.ts'
import { heatFlashSchema } from './cureSchema.ts'
import { prepSchema } from './schema.ts'

/** The work for which a film has to be ready by a figure that nobody may have typed. */
export const READY_FOR = ['sand', 'tape', 'polish', 'handle'] as const

/** From when the film is ready for one work: minutes at 20 °C, points, or "none" for at once. */
const readySchema = fields({ for: oneOf(READY_FOR), after: heatFlashSchema })

/**
 * What the shop says once where a sheet is silent: over what a drop coat goes, how to abrade under it, or
 * when its film is ready to be worked on. One of them.
 */
export const shopFigureSchema = v.pipe(
  fields({
    sheet: id40,
    dropOver: v.optional(oneOf(DROP_OVER)),
    prep: v.optional(prepSchema),
    ready: v.optional(readySchema),
  }),
  v.check(
    (d) => [d.dropOver, d.prep, d.ready].filter((one) => one !== undefined).length === 1,
    rule('oneOf', { words: ['dropOver', 'prep', 'ready'] }),
  ),
)
