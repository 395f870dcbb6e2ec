import * as v from 'valibot'
import { fields, id40, oneOf, text } from '../accept.ts'
import { STAGES, someCoatsSchema } from '../sheet/schema.ts'
import { WORKS } from './context.ts'

/** A step of a route as it is typed. */
export const stepSchema = fields({
  stage: oneOf(STAGES),
  sheet: v.optional(id40),
  colour: v.optional(text(40)),
  /** Those of the three that differ from the sheet's. */
  coats: v.optional(someCoatsSchema),
  face: v.optional(oneOf(['whole', 'edges', 'spot']), 'whole'),
  /** Of a step of preparation: what is done. */
  work: v.optional(oneOf(WORKS)),
})

export type RouteStep = v.InferOutput<typeof stepSchema>
