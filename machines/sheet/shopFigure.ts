import * as v from 'valibot'
import { above0, fields, id40, oneOf, yesNo } from '../accept.ts'
import { rule } from '../contract/wrongField.ts'
import { DROP_OVER } from './between.ts'
import { heatFlashSchema } from './cureSchema.ts'
import { prepSchema } from './schema.ts'

/** The work for which a film has to be ready by a figure that nobody may have typed. */
export const READY_FOR = ['sand', 'tape', 'polish', 'handle'] as const

/** From when the film is ready for one work: minutes at 20 °C, points, or "none" for at once. */
const readySchema = fields({ for: oneOf(READY_FOR), after: heatFlashSchema })

/** How long a mix without a clock keeps, from its mixing or from when its reducer went in: days, or "unlimited". */
const keepSchema = fields({
  reduced: yesNo,
  days: v.union([above0(3_650, 'days'), v.literal('unlimited')]),
})

/**
 * What the shop says once where a sheet is silent: over what a drop coat goes, how to abrade under it, when
 * its film is ready to be worked on, or how long it keeps in stock. One of them.
 */
export const shopFigureSchema = v.pipe(
  fields({
    sheet: id40,
    dropOver: v.optional(oneOf(DROP_OVER)),
    prep: v.optional(prepSchema),
    ready: v.optional(readySchema),
    keep: v.optional(keepSchema),
  }),
  v.check(
    (d) => [d.dropOver, d.prep, d.ready, d.keep].filter((one) => one !== undefined).length === 1,
    rule('oneOf', { words: ['dropOver', 'prep', 'ready', 'keep'] }),
  ),
)
