import { effect, type Signal, signal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
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
    v.union([
      coat,
      v.object({ least: v.optional(coat), planned: v.optional(coat), most: v.optional(coat) }),
    ]),
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

const nameOf = (key: string) => `flashbell.draft.${key}`

/** @returns null where nothing was kept, or a form of another build that has another shape */
export function readDraft<T>(
  store: Pick<Storage, 'getItem'>,
  key: string,
  schema: v.GenericSchema<unknown, T>,
): T | null {
  try {
    const read = v.safeParse(schema, JSON.parse(store.getItem(nameOf(key)) ?? 'null'))
    return read.success ? read.output : null
  } catch {
    return null
  }
}

/** A form's contents, kept under a name of their own until they are emptied again. */
export function useDraft<T>(
  key: string,
  schema: v.GenericSchema<unknown, T>,
  empty: () => T,
): Signal<T> {
  const draft = useMemo(() => signal(readDraft(sessionStorage, key, schema) ?? empty()), [key])
  useEffect(
    () => effect(() => sessionStorage.setItem(nameOf(key), JSON.stringify(draft.value))),
    [draft, key],
  )
  return draft
}
