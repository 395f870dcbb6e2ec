import { computed, effect, type ReadonlySignal, signal } from '@preact/signals'
import type { Entry } from '../../machines/envelope.ts'
import { follow } from '../../machines/follow.ts'
import type { State } from '../../machines/state.ts'

/**
 * The kiosk's copy of the shop. It grows by the tail, entry by entry, and by the answers to this
 * kiosk's own commands, which may be here before the tail brings them. Each entry is folded once.
 */
type Copy = {
  /** With everything that is known to be in the log. */
  readonly state: ReadonlySignal<State | null>
  /** Up to its head without a gap: what is kept on the device. */
  readonly confirmed: ReadonlySignal<State | null>
  /** The next entry of the log. @returns false where the copy has evicted what it is about */
  readonly add: (entry: Entry) => boolean
  /** Entries of the server's answer, in order. What lies between them and the head is still to come. */
  readonly take: (entries: readonly Entry[]) => void
  /** To be called before the whole state is asked for; what it gives back takes the answer. */
  readonly renew: () => (state: State) => void
  /** The shop as an earlier page kept it, where nothing else is known. */
  readonly remember: (state: State | null) => void
}

/** As seldom is open work told from what is over. */
const EVICT_EVERY_MS = 10 * 60_000

/** The state without what is no open work at an instant, UTC ms (machines/evict.ts). */
export type Evict = (state: State, now: number) => State

/** What is evicted is told by more of the rules than a Wall is drawn with: fetched at the first entry, and anew where that failed. */
export function fetchedEvict(fetched: () => Promise<{ readonly evict: Evict }>) {
  let evict: Evict | undefined
  let isAsked = false
  return (): Evict | undefined => {
    if (!isAsked) {
      isAsked = true
      void fetched().then(
        (file) => {
          evict = file.evict
        },
        () => {
          isAsked = false
        },
      )
    }
    return evict
  }
}

/**
 * @param now the server's time, UTC ms; null while it is in doubt: then nothing is evicted
 * @param evict undefined while it is still fetched
 */
export function shopCopy(now: () => number | null, evict: () => Evict | undefined): Copy {
  let evictedAt = 0
  const next = (state: State, entry: Entry) => follow(state, entry, now() ?? entry.recordedAt)
  /** Now and then without what is no open work any more: by the same function as the server. */
  function ofOpenWork(state: State): State {
    const [at, evicted] = [now(), evict()]
    if (at === null || !evicted || at - evictedAt < EVICT_EVERY_MS) return state
    evictedAt = at
    return evicted(state, at)
  }

  const confirmed = signal<State | null>(null)
  /** Beyond the head, in order of position. */
  const ahead = signal<readonly Entry[]>([])

  /** Folds what no gap keeps from the head any more. */
  function settle(base: State): void {
    let state = base
    let left = ahead.peek().filter(({ position }) => position > state.head)
    for (let entry = left[0]; entry?.position === state.head + 1; entry = left[0]) {
      const after = next(state, entry)
      // The tail brings it too, and then the whole state is asked for.
      if (after === null) break
      state = after
      left = left.slice(1)
    }
    confirmed.value = ofOpenWork(state)
    ahead.value = left
  }

  const state = computed(() => {
    const base = confirmed.value
    if (base === null || ahead.value.length === 0) return base
    const { head, headHash, recordedAt } = base
    const shown = ahead.value.reduce((s, entry) => next(s, entry) ?? s, base)
    return { ...shown, head, headHash, recordedAt }
  })

  return {
    state,
    confirmed,
    add(entry) {
      const base = confirmed.peek()
      if (base === null || entry.position <= base.head) return true
      const after = next(base, entry)
      if (after !== null) settle(after)
      return after !== null
    },
    take(entries) {
      const known = new Map([...ahead.peek(), ...entries].map((entry) => [entry.position, entry]))
      ahead.value = [...known.values()].sort((a, b) => a.position - b.position)
      const base = confirmed.peek()
      if (base !== null) settle(base)
    },
    renew() {
      const before = new Set(ahead.peek())
      return (answer) => {
        // The server has evicted what is over.
        evictedAt = now() ?? 0
        // What was answered before is in this state, or is in the log no more.
        ahead.value = ahead.peek().filter((entry) => !before.has(entry))
        settle(answer)
      }
    },
    remember(kept) {
      confirmed.value ??= kept
    },
  }
}

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
