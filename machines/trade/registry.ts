import type { Checked } from '../accept.ts'
import { wrongAt } from '../contract/wrongField.ts'
import { activator } from './activator.ts'
import { air } from './air.ts'
import { colour } from './colour.ts'
import { cupPlan } from './cupPlan.ts'
import { dewPoint } from './dewPoint.ts'
import { film, quantity } from './film.ts'
import { overPour } from './overPour.ts'
import { pour } from './pour.ts'
import { clock, interval } from './times.ts'
import { viscosity } from './viscosity.ts'
import { voc, vocStages } from './voc.ts'

/**
 * Every calculation under its one name: the command line, the HTTP route and the kiosk's calculator
 * all read this table.
 */
export const calculators = {
  interval,
  clock,
  pour,
  overPour,
  quantity,
  film,
  dewPoint,
  voc,
  vocStages,
  colour,
  air,
  viscosity,
  activator,
  cupPlan,
} as const

export type CalculatorName = keyof typeof calculators
export const calculatorNames = Object.keys(calculators) as readonly CalculatorName[]

const isName = (name: string): name is CalculatorName => Object.hasOwn(calculators, name)

/**
 * Runs a calculation on input from outside.
 * @param name one of `calculatorNames`
 * @param input any JSON
 * @returns the result, or the fields that are wrong; an unknown name is field "name"
 */
export function calculate(name: string, input: unknown): Checked<unknown> {
  if (isName(name)) return calculators[name].answer(input)
  return { ok: false, ...wrongAt('name', name, 'oneOf', { words: calculatorNames }) }
}
