/** What data is before a schema has taken it. */

/** As deep as it goes, nothing of it is changed: what a schema takes may be given as read-only. */
export type Given<V> = V extends readonly (infer E)[]
  ? readonly Given<E>[]
  : V extends object
    ? { readonly [K in keyof V]: Given<V[K]> }
    : V

/** Data as it was typed: text in place of a number is not a number, and goes on to be named as wrong. */
export type AsTyped<V> = {
  readonly [K in keyof V]: number extends V[K] ? V[K] | string : V[K]
}
