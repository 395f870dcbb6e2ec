import * as v from 'valibot'
import { fields, id40, oneOf } from '../accept.ts'
import { rule } from '../contract/wrongField.ts'
import { DROP_OVER } from './between.ts'
import { prepSchema } from './schema.ts'

/** What the shop says once where a sheet is silent: over what a drop coat goes, or how to abrade under it. */
export const shopFigureSchema = v.pipe(
  fields({ sheet: id40, dropOver: v.optional(oneOf(DROP_OVER)), prep: v.optional(prepSchema) }),
  v.check(
    ({ dropOver, prep }) => (dropOver === undefined) !== (prep === undefined),
    rule('oneOf', { words: ['dropOver', 'prep'] }),
  ),
)
