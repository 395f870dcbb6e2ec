import { BELLS, type BellKind } from './kinds.ts'

/** A prompt is expected; every other bell is an alarm: something is abnormal. */
export const isPrompt = (bell: BellKind): boolean => BELLS[bell].class === 'prompt'

/** A moment that comes: the only source of every countdown and every bell. */
export type Deadline = {
  /** The same as long as it is about the same coat, cup or load; it names the bell in the log. */
  readonly key: string
  readonly bell: BellKind
  readonly thing: { readonly kind: 'panel' | 'cup' | 'gun'; readonly id: string }
  readonly dueAt: number
  /** Of mayGoToHeat: to which heat. Absent where one bell is for both. */
  readonly mode?: 'bake' | 'infrared'
  readonly job?: string
  /** The panels of a pass that share this bell; it is due at the last of them. */
  readonly panels?: readonly string[]
}

/** Whether a bell that is asked for may be named by a thing's id or a pass. Of all bells it is always true. */
export type IsAbout = (name: string) => boolean
export const ofAll: IsAbout = () => true

const MIN_MS = 60_000

/**
 * When "near" begins before an end: the larger of a least time and a share of the whole, but never
more than half of it.
 */
export function nearAt(startMs: number, endMs: number, leastMin: number, share: number): number {
  const whole = endMs - startMs
  const before = Math.min(whole / 2, Math.max(leastMin * MIN_MS, whole * share))
  return endMs - Math.round(before)
}
