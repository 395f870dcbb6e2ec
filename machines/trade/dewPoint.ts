import * as v from 'valibot'
import { above0, airC, fields, partC } from '../accept.ts'
import { dewPointC } from '../clock/moistAir.ts'
import { calculator } from './calculator.ts'

/**
 * Dew point of air, and how far a surface is above it. In: °C and relative humidity as a
 * fraction above 0. Out: °C; the margin only where a surface was given.
 */
export const dewPoint = calculator({
  name: 'dewPoint',
  schema: fields({ airC, rh: above0(1, 'fraction'), surfaceC: v.optional(partC) }),
  about: {
    formula:
      'γ = ln(RH) + 17.62 t / (243.12 + t); dew point = 243.12 γ / (17.62 − γ); margin = surface − dew point',
    units: 'airC, surfaceC, dewPointC and marginC in °C, rh as a fraction (0.55 is 55 %)',
    source: 'WMO-No. 8 (2008), Magnus formula over water, inverted',
    caution:
      'The surface should be at least 3 °C above the dew point; the sheet may ask for more. Below 0 °C this is the dew point over water, not the frost point.',
  },
  run: (input) => {
    const dew = dewPointC(input.airC, input.rh)
    return {
      dewPointC: dew,
      ...(input.surfaceC === undefined ? {} : { marginC: input.surfaceC - dew }),
    }
  },
})
