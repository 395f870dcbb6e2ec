import * as v from 'valibot'
import { OPERATIONS } from '../../machines/panel/context.ts'
import { STAGES } from '../../machines/sheet/schema.ts'

/** What is typed stays through a reload: it lies in the page's own session until it is sent. */

const coat = v.number()
const stepSchema = v.object({
  stage: v.picklist(STAGES),
  sheet: v.optional(v.string()),
  colour: v.optional(v.string()),
  coats: v.optional(
    v.object({ least: v.optional(coat), planned: v.optional(coat), most: v.optional(coat) }),
  ),
  face: v.picklist(['whole', 'edges', 'spot']),
})

const panelSchema = v.object({
  on: v.nullable(v.string()),
  id: v.string(),
  name: v.string(),
  operation: v.picklist(OPERATIONS),
  substrate: v.string(),
  area: v.string(),
  zone: v.string(),
  colour: v.string(),
  route: v.nullable(v.array(stepSchema)),
})
export const panelsSchema = v.object({
  body: v.string(),
  panels: v.array(panelSchema),
  other: v.string(),
})

const colourSchema = v.object({
  key: v.string(),
  code: v.string(),
  kind: v.string(),
  variant: v.string(),
})
export const jobSchema = v.object({
  id: v.string(),
  title: v.string(),
  body: v.string(),
  vehicle: v.string(),
  colours: v.array(colourSchema),
})
export type JobDraft = v.InferOutput<typeof jobSchema>
export const textSchema = v.string()
