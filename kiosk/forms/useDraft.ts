import { effect, type Signal, signal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import * as v from 'valibot'

/** What was typed stays through a refusal, a reload and a lost server: it lies in the browser. */

const nameOf = (key: string) => `flashbell.${key}`

/** @returns null where nothing was kept, or a form of another build that has another shape */
export function readDraft<T>(
  store: Pick<Storage, 'getItem'>,
  key: string,
  schema: v.GenericSchema<unknown, T>,
): T | null {
  try {
    const read = v.safeParse(schema, JSON.parse(store.getItem(nameOf(key)) ?? 'null'))
    return read.success ? read.output : null
  } catch {
    return null
  }
}

/**
 * A form's contents, kept under a name of their own until they are emptied again.
 * @param store the page's own session, or what also outlives the page
 */
export function useDraft<T>(
  key: string,
  schema: v.GenericSchema<unknown, T>,
  empty: () => T,
  store: Storage = sessionStorage,
): Signal<T> {
  const draft = useMemo(() => signal(readDraft(store, key, schema) ?? empty()), [key])
  useEffect(
    () => effect(() => store.setItem(nameOf(key), JSON.stringify(draft.value))),
    [draft, key],
  )
  return draft
}
