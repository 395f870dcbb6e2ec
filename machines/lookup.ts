import { idDigest } from './digest.ts'
import { routeState } from './panel/where.ts'
import type { State } from './state.ts'

/** What a typed id, or the beginning of one, stands for. */
export type Found =
  | { readonly kind: 'cup' | 'panel' | 'job'; readonly id: string }
  | { readonly kind: 'nothing' }
  | { readonly kind: 'many'; readonly ids: readonly string[] }

/**
 * The cup, panel or job of the open work whose id begins with a text. An id that is whole wins over
 * longer ones.
 * @param prefix two to eight characters of the ids' alphabet, upper case
 */
export function findByPrefix(state: State, prefix: string): Found {
  const { cup, panel, job } = state.things
  const all = [
    ...Object.keys(cup)
      .filter((id) => cup[id]?.value !== 'unmixed')
      .map((id) => ({ kind: 'cup' as const, id })),
    ...Object.keys(panel)
      .filter((id) => routeState(panel[id]?.value) !== 'unknown')
      .map((id) => ({ kind: 'panel' as const, id })),
    ...Object.keys(job)
      .filter((id) => job[id]?.value !== 'unknown')
      .map((id) => ({ kind: 'job' as const, id })),
  ].filter(({ id }) => id.startsWith(prefix))
  const [first, second] = all
  if (!first) return { kind: 'nothing' }
  if (!second) return first
  return { kind: 'many', ids: all.map(({ id }) => id) }
}

/**
 * The thing whose id a code says.
 * @param given the id, in capitals as codes have it, or its digest
 * @returns null where none is it; or several are, by their case alone or their digest, and none is it exactly
 */
export function idLike(
  state: State,
  kind: 'person' | 'gun' | 'sheet',
  given: string,
): string | null {
  const ids = Object.keys(state.things[kind])
  if (ids.includes(given)) return given
  const said = given.toUpperCase()
  const same = ids.filter((id) => id.toUpperCase() === said || idDigest(id) === said)
  return same.length === 1 ? (same[0] ?? null) : null
}
