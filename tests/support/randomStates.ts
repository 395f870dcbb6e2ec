import { expect } from 'vitest'
import type { Kind } from '../../machines/catalog.ts'
import type { Draft } from '../../machines/envelope.ts'
import { fold } from '../../machines/fold.ts'
import { folders } from '../../machines/folders.ts'
import { emptyState, type State } from '../../machines/state.ts'

/** Ways to compare what a shop's log comes to. */

export const START: State = emptyState('TESTSHOP', 'h0')

export const foldAll = (entries: readonly Draft[], from: State = START): State =>
  entries.reduce(fold, from)

/** The same text for the same value, in whatever order its keys were set. */
export function textOf(value: unknown): string {
  return JSON.stringify(value, (_, inner: unknown) =>
    inner !== null && typeof inner === 'object' && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)))
      : inner,
  )
}

/** The same, by text first: a comparison field by field is slow, and only wanted where they differ. */
export function expectSame(one: unknown, other: unknown, message = ''): void {
  if (textOf(one) !== textOf(other)) expect(one, message).toEqual(other)
  expect(textOf(one) === textOf(other), message).toBe(true)
}

export const throughJson = <T>(value: T): T => JSON.parse(JSON.stringify(value)) as T

/** What things come to, without their entries; a thing that nothing live is said of is not there. */
export function bare(state: State): object {
  const kinds = Object.entries(state.things).map(([kind, things]) => {
    const blank = textOf({ ...folders[kind as Kind].blank })
    const own = Object.entries(things)
      .map(([id, { value, context, notTaken }]) => [id, { value, context, notTaken }] as const)
      .filter(([, thing]) => textOf(thing) !== blank)
    return [kind, Object.fromEntries(own)] as const
  })
  return Object.fromEntries(kinds)
}

/** Freezes a value and all that it holds. What is frozen already was frozen whole. */
export function frozen<T>(value: T): T {
  if (value === null || typeof value !== 'object' || Object.isFrozen(value)) return value
  Object.freeze(value)
  for (const inner of Object.values(value)) frozen(inner)
  return value
}

/** Entries in the order of some numbers: a shuffle that fast-check can shrink to none at all. */
export function shuffled<T>(items: readonly T[], by: readonly number[]): T[] {
  if (by.length === 0) return [...items]
  return items
    .map((item, i) => ({
      item,
      key: ((by[i % by.length] ?? 0) * (1 + Math.floor(i / by.length))) % 1009,
      i,
    }))
    .sort((a, b) => a.key - b.key || a.i - b.i)
    .map(({ item }) => item)
}
