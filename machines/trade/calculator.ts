import * as v from 'valibot'
import { type Checked, check } from '../accept.ts'

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

/** A field that is wrong only beside the others: where it stands and what would be accepted. */
export type Wrong = {
  readonly path: readonly [string | number, ...(string | number)[]]
  readonly accepted: string
}

type Item = v.UnknownPathItem

function itemsOf(input: unknown, path: Wrong['path']): [Item, ...Item[]] {
  const item = (from: unknown, key: string | number): Item => {
    const value = (from as Record<string | number, unknown> | undefined)?.[key]
    return { type: 'unknown', origin: 'value', input: from, key, value }
  }
  const [first, ...rest] = path
  const items: [Item, ...Item[]] = [item(input, first)]
  for (const key of rest) items.push(item(items.at(-1)?.value, key))
  return items
}

/**
 * A schema that also looks at its fields together. It names the field at fault, as every other
 * refusal does, rather than the whole body.
 * @param find the first thing wrong in an input whose fields are all right by themselves, or null
 */
export function together<I>(
  schema: v.GenericSchema<unknown, I>,
  find: (input: NoInfer<I>) => Wrong | null,
): v.GenericSchema<unknown, I> {
  return v.pipe(
    schema,
    v.rawCheck<I>(({ dataset, addIssue }) => {
      const wrong = dataset.typed ? find(dataset.value) : null
      if (!wrong) return
      const path = itemsOf(dataset.value, wrong.path)
      addIssue({ message: wrong.accepted, input: path.at(-1)?.value, path })
    }),
  )
}

export const sum = (numbers: readonly number[]) => numbers.reduce((a, b) => a + b, 0)
