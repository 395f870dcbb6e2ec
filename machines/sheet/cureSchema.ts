import * as v from 'valibot'
import { above0, fields, list, number, oneOf, partC, text } from '../accept.ts'
import { pointsSchema } from '../clock/interval.ts'
import { rule } from '../contract/wrongField.ts'

/** Of a sheet: how long a mix lives, how its film cures, and what an activator, reducer or additive changes of that. */

export const notZero = (message: string) =>
  v.check<v.InferOutput<typeof pointsSchema>, string>((points) => points[0]?.minutes !== 0, message)
const potLifeRule = rule('potLife', {})
/** A mix without a pot life has null, not zero. */
export const potLifeSchema = v.nullable(v.pipe(pointsSchema, notZero(potLifeRule)))

/** Minutes at 20 °C, or points: makers print a standing flash as one number. */
const standingOf = (given: unknown) =>
  typeof given === 'number' ? number(0, 10_080, 'min') : pointsSchema
export const standingSchema = v.lazy(standingOf)

/** The same for the wait before heat, of which "none" is a choice: left out, it is not known. */
export const heatFlashSchema = v.lazy((given) =>
  typeof given === 'string' ? oneOf(['none']) : standingOf(given),
)

/** Minutes at the lamp's full power, after those at half of it. Of before they were called `minutes`. */
const infraredSchema = v.pipe(
  fields({
    minutes: v.optional(above0(1_440, 'min')),
    fullMin: v.optional(above0(1_440, 'min')),
    halfMin: v.optional(above0(1_440, 'min')),
    distanceCm: v.optional(above0(300, 'cm')),
    flashBefore: v.optional(heatFlashSchema),
  }),
  v.check(
    ({ minutes, fullMin }) => (minutes === undefined) !== (fullMin === undefined),
    rule('oneOf', { words: ['fullMin', 'minutes'] }),
  ),
)

export const cureSchema = fields({
  air: v.optional(pointsSchema),
  bake: v.optional(
    list(
      fields({
        tempC: partC,
        minutes: above0(1_440, 'min'),
        basis: oneOf(['part', 'air']),
        flashBefore: v.optional(heatFlashSchema),
      }),
      0,
      6,
    ),
  ),
  infrared: v.optional(infraredSchema),
})

/** An activator or reducer for a range of air temperature; what it carries replaces the sheet's. */
export const optionSchema = fields({
  name: text(60),
  fromC: number(-30, 60, '°C'),
  toC: number(-30, 60, '°C'),
  potLife: v.optional(potLifeSchema),
  flashBetween: v.optional(pointsSchema),
  flashBeforeNext: v.optional(pointsSchema),
  cure: v.optional(cureSchema),
})

/** What may be put in besides: its figures stand beside the others', its factor stretches the pot life. */
export const additiveSchema = fields({
  name: text(60),
  fromC: v.optional(number(-30, 60, '°C')),
  toC: v.optional(number(-30, 60, '°C')),
  potLifeFactor: v.optional(above0(10)),
  potLife: v.optional(potLifeSchema),
  flashBetween: v.optional(pointsSchema),
  flashBeforeNext: v.optional(pointsSchema),
  cure: v.optional(cureSchema),
})

export type SheetOption = v.InferOutput<typeof optionSchema> | v.InferOutput<typeof additiveSchema>
export type Cure = v.InferOutput<typeof cureSchema>
/** Minutes at 20 °C, points, or "none". */
export type HeatFlash = v.InferOutput<typeof heatFlashSchema>
