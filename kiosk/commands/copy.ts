import { computed, type ReadonlySignal, signal } from '@preact/signals'
import type { Entry } from '../../machines/envelope.ts'
import { fold } from '../../machines/fold.ts'
import { isBeyond } from '../../machines/needs.ts'
import type { State } from '../../machines/state.ts'

/**
 * The kiosk's copy of the shop. It grows by the tail, entry by entry, and by the answers to this
 * kiosk's own commands, which may be here before the tail brings them. Each entry is folded once.
 */
export type Copy = {
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

export function shopCopy(): Copy {
  const confirmed = signal<State | null>(null)
  /** Beyond the head, in order of position. */
  const ahead = signal<readonly Entry[]>([])

  /** Folds what no gap keeps from the head any more. */
  function settle(base: State): void {
    let state = base
    let left = ahead.peek().filter(({ position }) => position > state.head)
    for (let next = left[0]; next?.position === state.head + 1; next = left[0]) {
      // The tail brings it too, and then the whole state is asked for.
      if (isBeyond(state, next)) break
      state = fold(state, next)
      left = left.slice(1)
    }
    confirmed.value = state
    ahead.value = left
  }

  const state = computed(() => {
    const base = confirmed.value
    if (base === null || ahead.value.length === 0) return base
    const { head, headHash, recordedAt } = base
    const shown = ahead.value.reduce((s, entry) => (isBeyond(s, entry) ? s : fold(s, entry)), base)
    return { ...shown, head, headHash, recordedAt }
  })

  return {
    state,
    confirmed,
    add(entry) {
      const base = confirmed.peek()
      if (base === null || entry.position <= base.head) return true
      if (isBeyond(base, entry)) return false
      settle(fold(base, entry))
      return true
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
