import * as v from 'valibot'
import { airC, fields, id40, rh, yesNo } from '../accept.ts'
import type { DayRange } from '../clock/air.ts'
import { rangeAt } from '../clock/line.ts'
import { rule } from '../contract/wrongField.ts'
import type { State } from '../state.ts'
import { airOf } from './fold.ts'

/** Between what the air of a zone stays on a day, as somebody says who has no sensor there. */

const orderRule = rule('notBelowFirst', {})

export const rangeSchema = v.pipe(
  fields({
    zone: id40,
    minC: airC,
    maxC: airC,
    rhMin: v.optional(rh),
    rhMax: v.optional(rh),
    /** It holds until the shop opens again. */
    overnight: v.optional(yesNo),
  }),
  v.forward(
    v.partialCheck([['minC'], ['maxC']], ({ minC, maxC }) => maxC >= minC, orderRule),
    ['maxC'],
  ),
  v.forward(
    v.partialCheck([['rhMin'], ['rhMax']], ({ rhMin = 0, rhMax = 1 }) => rhMax >= rhMin, orderRule),
    ['rhMax'],
  ),
)

/** The range that is in force for a zone; undefined where nobody gave one, or it is over. */
export const rangeIn = (state: State, zone: string, at: number): DayRange | undefined =>
  rangeAt(airOf(state, zone), at)
