import { signal } from '@preact/signals'
import type { State } from '../../machines/state.ts'
import type { objection, Provisional, provisional } from './provisional.ts'
import type { Pressed, QueuedCommand } from './queuedCommand.ts'
import type { Trouble } from './refusalText.ts'

/** What provisional.ts gives: it comes as a chunk of its own, since no first screen needs it. */
export type OfflineRules = {
  readonly objection: typeof objection
  readonly provisional: typeof provisional
}

/** What the rules say against a command, once they are here. */
type Objects = (state: State | null, command: Pressed) => Trouble | null

/**
 * The rules of the shop on a kiosk that nobody answers, fetched at once, and again whenever they are
 * wanted and could not be had.
 */
export function offlineRules(fetchRules: () => Promise<OfflineRules>): {
  /** The shop with what waits, once the rules are here. */
  readonly folded: Provisional
  /** Without the rules nothing is said against a command: then the server alone judges it. */
  readonly objects: () => Promise<Objects>
} {
  const here = signal<{ readonly by: OfflineRules; readonly folded: Provisional } | null>(null)
  async function load(): Promise<OfflineRules | null> {
    try {
      const by = here.peek()?.by ?? (await fetchRules())
      here.value ??= { by, folded: by.provisional() }
      return by
    } catch {
      return null
    }
  }
  void load()
  return {
    folded: (base: State, queue: readonly QueuedCommand[], device: string) =>
      queue.length === 0 ? base : (here.value?.folded(base, queue, device) ?? base),
    objects: async () => {
      const by = await load()
      return (state, command) => (by && state ? by.objection(state, command) : null)
    },
  }
}
