import * as v from 'valibot'
import { number } from '../accept.ts'
import { rule } from '../contract/wrongField.ts'

const lightness = number(0, 100, 'L*')
const axis = number(-128, 128, 'a*, b*')

/** A measured color in CIE L*a*b*. */
export const labSchema = v.strictTuple([lightness, axis, axis], rule('lab', {}))
export type Lab = v.InferOutput<typeof labSchema>
