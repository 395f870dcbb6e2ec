import * as v from 'valibot'
import { type Checked, check } from '../accept.ts'
import { together as agreeing, type Wrong } from '../together.ts'

export type { Wrong }

/** What stands beside a result: so that a painter can judge the number before using it. */
export type About = {
  readonly formula: string
  readonly units: string
  readonly source: string
  readonly caution: string
}

/** One calculation of the trade. `run` takes what `schema` lets through and never throws on it. */
export type Calculator<N extends string, I, O> = {
  readonly name: N
  readonly schema: v.GenericSchema<unknown, I>
  readonly about: About
  readonly run: (input: I) => O
  /** Check and run: for input from outside. */
  readonly answer: (input: unknown) => Checked<O>
}

/** Puts schema and function together, so that nothing unchecked reaches the function. */
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

/** A calculator's schema that also looks at its fields together. */
export const together = <I>(
  schema: v.GenericSchema<unknown, I>,
  find: (input: NoInfer<I>) => Wrong | null,
): v.GenericSchema<unknown, I> => v.pipe(schema, agreeing<I>(find))

export const sum = (numbers: readonly number[]) => numbers.reduce((a, b) => a + b, 0)
