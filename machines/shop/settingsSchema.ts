import * as v from 'valibot'
import { above0, fields, list, number, oneOf, text, whole, yesNo } from '../accept.ts'
import { RISE_DB } from '../bell/kinds.ts'
import { rule } from '../contract/wrongField.ts'
import { OPERATIONS } from '../panel/context.ts'
import { stepSchema } from '../panel/stepSchema.ts'

function isTimeZone(name: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: name }).format(0) !== ''
  } catch {
    return false
  }
}

const clockRule = rule('timeOfDay', {})
const clockTime = v.pipe(v.string(clockRule), v.regex(/^([01]\d|2[0-3]):[0-5]\d$/, clockRule))

const levelRule = rule('notBelowFirst', {})
const laterRule = rule('moreThanFirst', {})

/** When a bell that nobody acknowledges reaches further, twice: seconds after it was raised. */
const escalateSchema = v.pipe(
  fields({ first: whole(20, 1_800, 's'), second: whole(30, 3_600, 's') }),
  v.forward(
    v.partialCheck([['first'], ['second']], ({ first, second }) => second > first, laterRule),
    ['second'],
  ),
)

const siteRule = rule('siteAddress', {})

/** What a shop sets about its labels; the whole of it is said each time. */
export const labelSettingsSchema = fields({
  /** Diameters of its cups: a code wider than a quarter of the smallest bends out of a scanner's view. */
  cupsMm: v.optional(list(number(20, 600, 'mm'), 0, 12)),
  /** Stands before a QR's text, so that a phone's own camera opens the kiosk; nothing without it. */
  phoneAddress: v.optional(
    v.pipe(
      v.string(siteRule),
      v.maxLength(40, siteRule),
      // Of signs that a QR holds as densely as capitals.
      v.regex(/^https?:\/\/[a-z0-9-]+(?:\.[a-z0-9-]+)*(?::[0-9]{1,5})?$/i, siteRule),
    ),
  ),
})

/** What a shop may set. Storage stays in SI; units are for the screens. */
export const settingsSchema = fields({
  shopName: v.optional(text(80)),
  units: v.optional(
    fields({
      temperature: v.optional(oneOf(['C', 'F'])),
      volume: v.optional(oneOf(['mL', 'flOz'])),
      pressure: v.optional(oneOf(['bar', 'psi'])),
    }),
  ),
  clock: v.optional(oneOf(['24h', '12h'])),
  language: v.optional(oneOf(['en', 'es'])),
  timeZone: v.optional(v.pipe(text(60), v.check(isTimeZone, rule('timeZone', {})))),
  /** When the shop opens and closes: at closing time it shows what would run out in between. */
  hours: v.optional(fields({ opensAt: clockTime, closesAt: clockTime })),
  bells: v.optional(
    fields({
      escalateAfterS: v.optional(escalateSchema),
      riseDb: v.optional(number(0, RISE_DB, 'dB')),
    }),
  ),
  /** A route that the shop takes for an operation, instead of the one that is proposed; empty for that again. */
  usualRoutes: v.optional(
    list(
      fields({ operation: oneOf(OPERATIONS), isPlastic: yesNo, route: list(stepSchema, 0, 60) }),
      1,
      8,
    ),
  ),
  /** The shop's own levels of a color check, in CIEDE2000; `atGun`: beyond them no coat is started without a reason. */
  colour: v.optional(
    v.pipe(
      fields({
        match: above0(20, 'ΔE00'),
        blend: above0(20, 'ΔE00'),
        atGun: v.optional(yesNo, false),
      }),
      v.forward(
        v.partialCheck([['match'], ['blend']], ({ match, blend }) => blend >= match, levelRule),
        ['blend'],
      ),
    ),
  ),
  labels: v.optional(labelSettingsSchema),
  limits: v.optional(
    fields({
      /** Least distance of a surface above the dew point. Ingal Specifiers Manual ch. 13: 3 °C. */
      dewMarginC: v.optional(number(3, 10, 'K')),
      /** How cold and how warm a part may be where its sheet says nothing: marked, and refused. */
      partMarkMinC: v.optional(number(-30, 60, '°C')),
      partMarkMaxC: v.optional(number(-30, 60, '°C')),
      partMinC: v.optional(number(-30, 60, '°C')),
      partMaxC: v.optional(number(-30, 60, '°C')),
      sprayMinPerM2: v.optional(number(0.1, 30, 'min/m²')),
    }),
  ),
})

export type Settings = v.InferOutput<typeof settingsSchema>
