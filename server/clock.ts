/** Time as the server's parts see it. main.ts makes the real one; tests move one of their own. */
export type Clock = {
  /** UTC ms. */
  readonly now: () => number
  /** Calls `run` every `ms` until the function that it gives back is called. */
  readonly every: (ms: number, run: () => void) => () => void
}
