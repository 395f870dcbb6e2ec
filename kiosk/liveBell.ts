import { type Actor, createActor } from 'xstate'
import { type Reach, reachesOf } from '../machines/bell/kinds.ts'
import {
  type BellEvent,
  type BellSaid,
  type BellState,
  bellMachine,
  bellState,
  type Known,
} from '../machines/bell/machine.ts'
import type { Card, Ringing } from './bells.ts'
import type { TickClock } from './ticker.ts'

const RISE_DB = 5

/** The machine of one card while it runs. */
export class LiveBell {
  readonly raisedAtMs: number
  readonly #kind: Card['kind']
  readonly #actor: Actor<typeof bellMachine>

  /** @param hear is told of every play, hush and escalation */
  constructor(card: Card, atMs: number, delays: TickClock, hear: (said: BellSaid) => void) {
    this.raisedAtMs = atMs
    this.#kind = card.kind
    const input = { key: card.key, kind: card.kind }
    this.#actor = createActor(bellMachine, { input, clock: delays })
    this.#actor.on('*', hear)
    this.#actor.start()
  }

  raise(known: Known | undefined): void {
    this.send({ type: 'DUE', atMs: this.raisedAtMs, ...(known === undefined ? {} : { known }) })
  }

  send(event: BellEvent): void {
    this.#actor.send(event)
  }

  stop(): void {
    this.#actor.stop()
  }

  get state(): BellState {
    return bellState(this.#actor.getSnapshot())
  }

  /** Rings and nobody has said anything to it. */
  get isUnanswered(): boolean {
    return this.#actor.getSnapshot().matches('ringing')
  }

  get context() {
    return this.#actor.getSnapshot().context
  }

  /** An escalated bell is 5 dB louder at each step. */
  get riseDb(): number {
    return Math.max(0, reachesOf(this.#kind).indexOf(this.context.reach)) * RISE_DB
  }

  /** What the choice of the next sound needs to know of it. */
  ringing(card: Card, soundsHere: (reach: Reach) => boolean): Ringing {
    const bell = this.#actor.getSnapshot()
    const isQuiet =
      bell.matches({ ringing: { sounding: 'shown' } }) ||
      bell.matches({ ringing: { sounding: 'silenced' } })
    return {
      key: card.key,
      kind: card.kind,
      dueAt: card.dueAt,
      raisedAtMs: this.raisedAtMs,
      wantsTurn: bell.hasTag('wantsTurn'),
      isAudible: this.isUnanswered && !isQuiet && soundsHere(bell.context.reach),
    }
  }
}
