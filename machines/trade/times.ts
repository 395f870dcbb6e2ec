import * as v from 'valibot'
import { airC, fields, list, number, oneOf, partC, rh } from '../accept.ts'
import type { AirReading, Climate } from '../clock/air.ts'
import { minutesAt, pointsSchema, RH_REFERENCE } from '../clock/interval.ts'
import { endsAt } from '../clock/line.ts'
import { calculator, crossChecked, type Wrong } from './calculator.ts'

export const MINUTE_MS = 60_000
const YEAR_MIN = 527_040

const kind = oneOf(['notBefore', 'notAfter'])

const caution =
  'The maker’s sheet rules. Between its figures this is an estimate; outside them it only grows more cautious.'

/** How long a sheet's interval is at one temperature. In: °C and minutes. Out: minutes. */
export const interval = calculator({
  name: 'interval',
  schema: fields({ kind, points: pointsSchema, atC: partC }),
  about: {
    formula:
      'Between two points ln(minutes) is linear in 1/T (kelvin); one point doubles per 10 °C colder. Outside the points a notBefore never shortens and a notAfter never lengthens.',
    units: 'atC in °C, minutes in minutes',
    source: 'Arrhenius’ law; the factor 2 per 10 °C (18 °F) is stated for pot life by UFGS-09971',
    caution,
  },
  run: ({ kind, points, atC }) => ({ minutes: minutesAt(kind, points, atC) }),
})

type ClockInput = {
  readonly kind: 'notBefore' | 'notAfter'
  readonly readings: readonly { atMin: number; airC: number; rh?: number | undefined }[]
  readonly waterborne?: object | undefined
}

/** Only a flash dries into the air: a pot life stretched by damp would be spoilt material. */
const waterborneIsFlash = ({ kind, waterborne }: ClockInput): Wrong | null =>
  waterborne && kind === 'notAfter'
    ? {
        path: ['waterborne'],
        code: 'notWithAfter',
        params: {},
      }
    : null

/** The readings as a climate whose minute 0 is the start. They never go stale: they are all there is. */
function climateOf(readings: ClockInput['readings']): Climate {
  const inOrder: AirReading[] = readings
    .map(({ atMin, airC, rh }) => ({
      at: Math.round(atMin * MINUTE_MS),
      airC,
      ...(rh === undefined ? {} : { rh }),
    }))
    .sort((a, b) => a.at - b.at)
  return {
    stays: [{ fromMs: 0, readings: inOrder }],
    parts: [],
    staleMs: Number.POSITIVE_INFINITY,
  }
}

/**
 * When an interval that starts at minute 0 ends in air that changes. In: minutes, °C, relative
 * humidity 0 to 1. Out: minutes, null when it never ends. Without readings the sheet's own figure.
 */
export const clock = calculator({
  name: 'clock',
  schema: crossChecked(
    fields({
      kind,
      points: pointsSchema,
      readings: list(
        fields({ atMin: number(-YEAR_MIN, YEAR_MIN, 'min'), airC, rh: v.optional(rh) }),
        0,
        2000,
      ),
      waterborne: v.optional(fields({ rhRef: v.optional(number(0, 0.94, 'fraction')) })),
    }),
    waterborneIsFlash,
  ),
  about: {
    formula:
      'The interval ends where the integral of dt / minutes(T(t)) reaches 1; each reading holds until the next, the first back to the start. Waterborne: minutes = sheet’s × ps(Tref)(1 − RHref) / (ps(T)(1 − RH)), never less than the sheet’s; from 95 % RH on it does not flash. Whole seconds, towards caution.',
    units: 'atMin and endsAtMin in minutes from the start, airC in °C, rh as a fraction',
    source:
      'Arrhenius’ law and additive used fractions; saturation pressure by WMO-No. 8 (Magnus). The drying rule is this project’s own.',
    caution,
  },
  run: ({ kind, points, readings, waterborne }) => {
    const rhRef = waterborne && (waterborne.rhRef ?? RH_REFERENCE)
    const terms = rhRef === undefined ? {} : { waterborneRhRef: rhRef, isTable: true as const }
    const end = endsAt({ kind, points, ...terms }, 0, climateOf(readings))
    return { endsAtMin: end === null ? null : end / MINUTE_MS }
  },
})
