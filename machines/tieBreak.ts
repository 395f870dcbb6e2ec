import { streamsOf, type ThingRef } from './catalog.ts'
import type { Draft } from './envelope.ts'
import { fold, isOvertaken } from './fold.ts'
import { type State, thingOf } from './state.ts'

/** Two presses on two kiosks are never this close, and no two clocks agree this well. */
const NEAR_MS = 20

const since = (state: State, ref: ThingRef, at: number): readonly Draft[] => {
  const entries = thingOf(state, ref)?.entries ?? []
  return entries.slice(entries.findLastIndex((e) => e.at < at) + 1)
}

/**
 * When a live command happened, if the newest entry of what it is about is a few milliseconds ahead
 * of it: at the time of that entry, since the command is decided on it. Such an entry was moved
 * ahead because it would have been lost, or came with another kiosk's clock.
 * @param refs the things that the command is about
 * @param at the command's own time, UTC ms
 */
export function tieBreak(state: State, refs: readonly ThingRef[], at: number): number {
  const ahead = refs
    .flatMap((ref) => since(state, ref, at + 1).map((e) => e.at))
    .filter((then) => then <= at + NEAR_MS)
  return ahead.length === 0 ? at : tieBreak(state, refs, Math.max(...ahead))
}

/**
 * Whether live drafts would be lost in the fold. Entries of the same millisecond are folded in the
 * order of their devices, not in the order in which they were decided: a coat could come before the
 * cup that it was sprayed from, a finish before its start.
 * @param at when the command happened; the coats of a pass that started earlier keep their own time
 */
export function wouldBeLost(state: State, drafts: readonly Draft[], at: number): boolean {
  const own = drafts.filter((draft) => draft.at === at)
  const isShared = own.some((draft) =>
    streamsOf(draft).some((ref) =>
      since(state, ref, draft.at).some((e) => e.at === draft.at && e.device !== draft.device),
    ),
  )
  if (!isShared) return false
  let before = state
  for (const draft of drafts) {
    if (draft.at === at && isOvertaken(before, draft)) return true
    before = fold(before, draft)
  }
  return false
}
