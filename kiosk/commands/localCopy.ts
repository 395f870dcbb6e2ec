import { effect, type ReadonlySignal } from '@preact/signals'
import type { State } from '../../machines/state.ts'

/** The shop as kept on the device, for a page that is loaded while the server is away. */

export type LocalCopySources = {
  /** Writes the shop to the device. It may reject: a full disk, a private window. */
  readonly keep: (state: State) => Promise<void>
  readonly wait: (ms: number) => Promise<void>
  /** Calls back when the page may be about to end: what is newest is written at once. */
  readonly leaving: (write: () => void) => () => void
}

/** The copy is the whole shop; it is not written for every entry. */
const KEEP_EVERY_MS = 5_000

/**
 * Keeps every new state of a shop, the first at once, then the newest now and then and when the page
 * is left. One is written at a time; one that the device refuses to write is tried again with the next.
 * @returns a function that ends it
 */
export function keepLocalCopy(
  state: ReadonlySignal<State | null>,
  from: LocalCopySources,
): () => void {
  let written: State | null = null
  let writing: Promise<void> | null = null
  let isResting = false

  async function write(): Promise<void> {
    await writing
    const newest = state.peek()
    if (newest === null || newest === written) return
    written = newest
    // The page goes on: only a reload without the server would show less.
    writing = from.keep(newest).catch(() => {})
    await writing
  }

  async function writeAndRest(): Promise<void> {
    if (isResting) return
    isResting = true
    await write()
    await from.wait(KEEP_EVERY_MS)
    isResting = false
    if (state.peek() !== written) void writeAndRest()
  }

  const stopLeaving = from.leaving(() => void write())
  const stop = effect(() => {
    if (state.value !== null) void writeAndRest()
  })
  return () => {
    stop()
    stopLeaving()
  }
}
