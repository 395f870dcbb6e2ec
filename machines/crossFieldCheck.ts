import * as v from 'valibot'
import type { Rule } from './contract/wrongField.ts'

/** A field that is wrong only because of the others: its path, and the rule that it breaks. */
export type Wrong = Rule & {
  readonly path: readonly [string | number, ...(string | number)[]]
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
 * A check of an object's fields against one another. It names the field at fault, as every other
 * refusal does, and not the whole body.
 * @param find the first thing wrong in an input whose fields are all right by themselves, or null
 */
export const crossFieldCheck = <I>(find: (input: I) => Wrong | null) =>
  v.rawCheck<I>(({ dataset, addIssue }) => {
    const wrong = dataset.typed ? find(dataset.value) : null
    if (!wrong) return
    const path = itemsOf(dataset.value, wrong.path)
    addIssue({ message: JSON.stringify(wrong), input: path.at(-1)?.value, path })
  })
