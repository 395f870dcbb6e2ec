import type { Draft, Entry } from '../machines/envelope.ts'
import { fold } from '../machines/fold.ts'
import type { State } from '../machines/state.ts'
import { seal } from './log/chain.ts'

export type Placed = { readonly state: State; readonly entries: readonly Entry[] }

/**
 * Gives drafts their places after the head of a state, seals them upon it and folds them.
 * @param digest of the command that caused them
 * @param now UTC ms; recordedAt is this or the last one, whichever is later: an order that never
 *   runs backwards, by which nothing is judged
 */
export function place(state: State, drafts: readonly Draft[], digest: string, now: number): Placed {
  const entries: Entry[] = []
  let after = state
  for (const draft of drafts) {
    const position = after.head + 1
    const entry = seal(after.shop, after.headHash, {
      ...draft,
      position,
      // Without a device there is no count: the log's position is used instead.
      seq: draft.seq ?? position,
      recordedAt: Math.max(now, after.recordedAt),
      commandDigest: digest,
    })
    entries.push(entry)
    after = fold(after, entry)
  }
  return { state: after, entries }
}
