import type { Reach } from '../../machines/bell/kinds.ts'
import type { BellState, Known } from '../../machines/bell/machine.ts'
import type { BellRules } from '../../machines/bell/rules.ts'
import type { Bell, Card, Facts } from './cards.ts'

/** What the ringer is given, and what it gives to screens. */

/** Everything that decides about the bells at this moment. */
export type Open = {
  readonly bells: readonly Bell[]
  readonly facts: Facts
  /** What the log knows of a bell by its key; undefined when it never rang. */
  readonly known: (key: string) => Known | undefined
  readonly rules: BellRules
  /** Whether the log knows of a kiosk in a flood of bells. */
  readonly isFloodKnown: boolean
}

/** A card as a screen shows it. */
export type Shown = Card & {
  readonly state: BellState
  readonly raisedAtMs: number
  readonly reach: Reach
  readonly snoozes: number
  readonly snoozedUntilMs: number
  /** Until when it is quiet because it called again and again; 0 while it may sound. */
  readonly heldUntilMs: number
}

export type Bells = {
  /** Most urgent first. */
  readonly cards: readonly Shown[]
  readonly inFlood: boolean
  /** Until when this kiosk was asked to be quiet; 0 while it may sound. */
  readonly silencedUntilMs: number
}
