/** Calls back at every tick until it is stopped. */
export type Ticks = (look: () => void) => () => void

/** How often the page looks by itself, beside the Worker or where none could be started. */
const BESIDE_MS = 1_000

/**
 * Ticks from the Worker of tickWorker.ts, from the page's own timer, and whenever the page is shown again.
 * @param workerUrl where the built Worker is served
 */
export const workerTicks =
  (workerUrl: string): Ticks =>
  (look) => {
    const worker = new Worker(workerUrl)
    worker.addEventListener('message', look)
    const beside = setInterval(look, BESIDE_MS)
    document.addEventListener('visibilitychange', look)
    return () => {
      worker.terminate()
      clearInterval(beside)
      document.removeEventListener('visibilitychange', look)
    }
  }

type Waiting = { readonly id: number; readonly dueMs: number; readonly act: () => void }

/** A clock for XState's delays that runs on ticks instead of the page's timers. */
export type TickClock = {
  setTimeout(act: (...args: unknown[]) => void, delayMs: number): number
  clearTimeout(id: number): void
  /** Runs all that is due, in order of time. */
  look(): void
}

/** @param nowMs a monotonic clock, ms */
export function tickClock(nowMs: () => number): TickClock {
  let waiting: readonly Waiting[] = []
  let lastId = 0
  return {
    setTimeout: (act, delayMs) => {
      lastId += 1
      waiting = [...waiting, { id: lastId, dueMs: nowMs() + delayMs, act }]
      return lastId
    },
    clearTimeout: (id) => {
      waiting = waiting.filter((w) => w.id !== id)
    },
    look: () => {
      const untilMs = nowMs()
      // One at a time: what runs may cancel or add others.
      for (let next = firstDue(waiting, untilMs); next; next = firstDue(waiting, untilMs)) {
        const { id, act } = next
        waiting = waiting.filter((w) => w.id !== id)
        act()
      }
    },
  }
}

const firstDue = (waiting: readonly Waiting[], untilMs: number): Waiting | undefined =>
  waiting.filter((w) => w.dueMs <= untilMs).sort((a, b) => a.dueMs - b.dueMs || a.id - b.id)[0]
