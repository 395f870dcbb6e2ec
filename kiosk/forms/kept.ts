import { effect, type Signal, signal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import type * as v from 'valibot'
import { check } from '../../machines/accept.ts'

/** What was typed stays through a refusal, a reload and a lost server: it lies in the browser. */

function read(key: string): unknown {
  try {
    return JSON.parse(localStorage.getItem(key) ?? 'null')
  } catch {
    return null
  }
}

/**
 * A signal that the browser keeps.
 * @param schema what is kept must pass it; else `start` is taken, as after a change of this page
 */
export function useKept<T>(key: string, schema: v.GenericSchema<unknown, T>, start: T): Signal<T> {
  const kept = useMemo(() => {
    const found = check(schema, read(key))
    const value = signal(found.ok ? found.value : start)
    const stop = effect(() => localStorage.setItem(key, JSON.stringify(value.value)))
    return { value, stop }
  }, [key])
  useEffect(() => kept.stop, [kept])
  return kept.value
}
