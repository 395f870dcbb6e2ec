import { streamsOf, type ThingRef } from './catalog.ts'
import type { Draft } from './envelope.ts'
import { fold, isOvertaken } from './fold.ts'
import { type State, thingOf } from './state.ts'

/** Nobody presses on two kiosks so quickly, and no two clocks agree so well. */
const NEAR_MS = 20

const since = (state: State, ref: ThingRef, at: number): readonly Draft[] => {
  const entries = thingOf(state, ref)?.entries ?? []
  return entries.slice(entries.findLastIndex((e) => e.at < at) + 1)
}

/**
 * When a live command happened, if what it is about stands a few milliseconds ahead: then, since
 * that is what it is decided on. It was put there since it would have been lost else, or by
 * another kiosk's clock.
 * @param refs the things that the command is about
 * @param at when it was said to have happened, UTC ms
 */
export function groundOf(state: State, refs: readonly ThingRef[], at: number): number {
  const ahead = refs
    .flatMap((ref) => since(state, ref, at + 1).map((e) => e.at))
    .filter((then) => then <= at + NEAR_MS)
  return ahead.length === 0 ? at : groundOf(state, refs, Math.max(...ahead))
}

/**
 * Whether live drafts would be lost where they are folded. Entries of one and the same millisecond
 * are folded in the order of their devices (DESIGN 3), not in that in which they were decided: a coat
 * could come before the cup that it was sprayed from, a finish before its start.
 * @param at when the command happened: what a pass spreads to before that stays there
 */
export function areLost(state: State, drafts: readonly Draft[], at: number): boolean {
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
