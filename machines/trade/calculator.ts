import * as v from 'valibot'
import { type Checked, check } from '../accept.ts'
import { crossFieldCheck, type Wrong } from '../crossFieldCheck.ts'

export type { Wrong }

/** What is shown beside a result, so that a painter can judge the number before using it. */
export type About = {
  readonly formula: string
  readonly units: string
  readonly source: string
  readonly caution: string
}

/** One calculation of the trade. `run` takes what `schema` accepts and never throws on it. */
export type Calculator<N extends string, I, O> = {
  readonly name: N
  readonly schema: v.GenericSchema<unknown, I>
  readonly about: About
  readonly run: (input: I) => O
  /** Check and run: for input from outside. */
  readonly answer: (input: unknown) => Checked<O>
}

/** Joins schema and function, so that nothing unchecked reaches the function. */
export function calculator<const N extends string, I, O>(
  parts: Omit<Calculator<N, I, O>, 'answer'>,
): Calculator<N, I, O> {
  return {
    ...parts,
    answer: (input) => {
      const checked = check(parts.schema, input)
      return checked.ok ? { ok: true, value: parts.run(checked.value) } : checked
    },
  }
}

/** A calculator's schema that also checks its fields against one another. */
export const crossChecked = <I>(
  schema: v.GenericSchema<unknown, I>,
  find: (input: NoInfer<I>) => Wrong | null,
): v.GenericSchema<unknown, I> => v.pipe(schema, crossFieldCheck<I>(find))

export const sum = (numbers: readonly number[]) => numbers.reduce((a, b) => a + b, 0)
