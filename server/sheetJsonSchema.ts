import { type ConversionConfig, type JsonSchema, toJsonSchema } from '@valibot/to-json-schema'
import type { GenericSchema } from 'valibot'
import { sheetFileSchema } from '../machines/sheet/file.ts'

/**
 * The JSON Schema (draft 7) of a file of sheets, made of the schema that checks one. What no JSON Schema
 * can say, such as that figures of one sheet agree with each other, an import still checks.
 */

/** One value of each kind that a schema may go by where it depends on what is given. */
const KINDS = ['', 0, {}, []] as const

type Lazy = { readonly type: 'lazy'; readonly getter: (given: unknown) => GenericSchema }
const isLazy = (schema: { readonly type: string }): schema is Lazy => schema.type === 'lazy'

const CONFIG: ConversionConfig = {
  typeMode: 'input',
  errorMode: 'ignore',
  overrideSchema: ({ valibotSchema }) => (isLazy(valibotSchema) ? anyOf(valibotSchema) : undefined),
}

/** What a schema asks for each kind of value, each once. */
function anyOf({ getter }: Lazy): JsonSchema {
  const all = KINDS.map((kind) => JSON.stringify(plain(getter(kind))))
  const once = [...new Set(all)].map((text) => JSON.parse(text) as JsonSchema)
  return once.length === 1 ? (once[0] as JsonSchema) : { anyOf: once }
}

const REFERENCE = '#/$defs/'

/** A part stands where it is used: no sheet holds itself. */
function plain(schema: GenericSchema): JsonSchema {
  const { $schema: _, $defs = {}, ...own } = toJsonSchema(schema, CONFIG)
  const within = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(within)
    if (typeof value !== 'object' || value === null) return value
    if ('$ref' in value) return within($defs[String(value.$ref).slice(REFERENCE.length)])
    return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, within(one)]))
  }
  return within(own) as JsonSchema
}

export const sheetJsonSchema = (): JsonSchema => ({
  $schema: 'http://json-schema.org/draft-07/schema#',
  title: 'Product sheets of a paint shop',
  description:
    'SI units: °C, minutes, mL, g/mL, kPa, µm, cm. Shares are 0 to 1. Points are {atC, minutes}.',
  ...plain(sheetFileSchema),
})
