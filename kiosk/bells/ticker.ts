/** When the next look is wanted. */
export type NextLook = {
  /** When what a screen shows changes next, ms from now. */
  readonly screenInMs: number
  /** Nothing rings, and no bell comes soon. */
  readonly isCalm: boolean
}
export type Ticking = {
  readonly stop: () => void
  /** What there is to be looked at has changed: a tick comes at once. */
  readonly soon: () => void
}
/** Calls back at every tick until it is stopped. */
export type Ticks = (look: () => NextLook) => Ticking

/** How often the page looks at the most and at the least by itself, beside the Worker or where none could be started. */
const MOST_OFTEN_MS = 50
const BESIDE_MS = 1_000
/** How often the Worker pokes the page while a bell rings or is near, and while all is calm and nobody sees it. */
const NEAR_EVERY_MS = 200
const UNSEEN_EVERY_MS = 1_000
/** While all is calm and the page is seen, its own timer looks every second: the Worker is there for one that fails. */
const SEEN_EVERY_MS = 5_000
/** By so little a tick may come behind the moment when digits change: one interval then goes on for all of them. */
const BEHIND_MS = 20

/**
 * Ticks from the Worker of tickWorker.ts, from the page's own timer, and whenever the page is shown again. The
 * page's timer is for what is seen: it waits for the moment when digits change. The Worker is for what is heard.
 * @param workerUrl where the built Worker is served
 */
export const workerTicks =
  (workerUrl: string): Ticks =>
  (look) => {
    const worker = new Worker(workerUrl)
    let everyMs = NEAR_EVERY_MS
    const pokeEvery = (ms: number) => {
      if (ms !== everyMs) worker.postMessage(ms)
      everyMs = ms
    }
    const atTick = (): NextLook => {
      const next = look()
      const calmMs = document.visibilityState === 'hidden' ? UNSEEN_EVERY_MS : SEEN_EVERY_MS
      pokeEvery(next.isCalm ? calmMs : NEAR_EVERY_MS)
      return next
    }
    let timer: ReturnType<typeof setTimeout>
    let isSteady = false
    let hasLooked = false
    const lookIn = (inMs: number) => {
      const wasSteady = isSteady
      // To set a timer each second costs a slow tablet more than to be called by one that stands.
      isSteady = inMs > BESIDE_MS - BEHIND_MS
      if (isSteady && wasSteady) return
      clearTimeout(timer)
      timer = isSteady ? setInterval(atTimer, BESIDE_MS) : setTimeout(atTimer, inMs)
    }
    const atTimer = () => {
      const fired = timer
      hasLooked = true
      let inMs = BESIDE_MS
      try {
        inMs = Math.min(Math.max(atTick().screenInMs, MOST_OFTEN_MS), BESIDE_MS)
      } finally {
        // A look that throws ends nothing: the next one comes. One that was asked for meanwhile comes sooner.
        if (timer === fired) lookIn(inMs)
      }
    }
    const atPoke = () => {
      // The page's own timer runs: it has looked since the last poke.
      const isNeeded = !hasLooked || everyMs !== SEEN_EVERY_MS
      hasLooked = false
      if (isNeeded) atTick()
    }
    timer = setTimeout(atTimer)
    worker.addEventListener('message', atPoke)
    document.addEventListener('visibilitychange', atTick)
    return {
      stop: () => {
        worker.terminate()
        clearTimeout(timer)
        document.removeEventListener('visibilitychange', atTick)
      },
      soon: () => {
        // Both: a hidden page's timer may be held back for a minute.
        pokeEvery(NEAR_EVERY_MS)
        lookIn(0)
      },
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
      if (waiting.length === 0) return
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
