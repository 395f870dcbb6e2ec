import { type Actor, createActor } from 'xstate'
import {
  BELLS,
  CHATTER_TIMES,
  CHATTER_WITHIN_MS,
  HOLD_MS,
  type Reach,
  reachesOf,
} from '../../machines/bell/kinds.ts'
import {
  type BellEvent,
  type BellSaid,
  type BellState,
  bellMachine,
  bellState,
  type Known,
} from '../../machines/bell/machine.ts'
import type { BellRules } from '../../machines/bell/rules.ts'
import type { Bell, Card, Ringing } from './cards.ts'
import type { TickClock } from './ticker.ts'

/** The step that a bell has reached: only logged while the shop is closed. */
type Rise = { readonly to: Reach; readonly shown: boolean }

type LiveParts = {
  readonly delays: TickClock
  readonly escalateMs: BellRules['escalateMs']
  readonly hear: (said: BellSaid) => void
}

/** The machine of one card while it runs. */
export class LiveBell {
  readonly raisedAtMs: number
  readonly #kind: Card['kind']
  readonly #actor: Actor<typeof bellMachine>
  /** Steps taken here, and steps that were logged. */
  #step = 0
  #toldStep = 0
  #steppedAtMs = Number.NEGATIVE_INFINITY

  /** @param hear is called for every play and every silence */
  constructor(card: Card, atMs: number, { delays, escalateMs, hear }: LiveParts) {
    this.raisedAtMs = atMs
    this.#kind = card.kind
    const input = { key: card.key, kind: card.kind, escalateMs }
    this.#actor = createActor(bellMachine, { input, clock: delays })
    this.#actor.on('*', hear)
    this.#actor.start()
  }

  raise(known: Known | undefined): void {
    this.send({ type: 'DUE', atMs: this.raisedAtMs, ...(known === undefined ? {} : { known }) })
  }

  /** What was pressed on another kiosk, as the log knows it of each of the card's bells. */
  hearFromLog(all: readonly (Known | undefined)[], atMs: number): void {
    if (all.every((k) => k?.isAcknowledged)) this.send({ type: 'ACKNOWLEDGE' })
    const untilMs = Math.min(...all.map((k) => k?.snoozedUntilMs ?? 0))
    // A snooze already taken, and perhaps ended by hand, does not count again.
    if (untilMs > atMs && untilMs > this.context.snoozedUntilMs)
      this.send({ type: 'SNOOZE', atMs, forMs: untilMs - atMs })
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

  /** Whom it reaches here. */
  get reach(): Reach {
    return reachesOf(this.#kind)[this.#step] ?? this.context.reach
  }

  /**
   * Climbs to the step of its machine, one step at a time: a bell that rose in a closed shop takes
   * its steps once the shop opens, and never two at once.
   * @returns what has to be logged
   */
  rise(atMs: number, { isOpen, escalateMs: [first, second] }: BellRules): readonly Rise[] {
    const reaches = reachesOf(this.#kind)
    const step = BELLS[this.#kind].class === 'prompt' ? 0 : reaches.indexOf(this.context.reach)
    // After a snooze the bell starts from its first step.
    if (step < this.#step) this.#step = step
    if (!this.isUnanswered || step === this.#step) return []
    if (!isOpen(atMs)) {
      const risen = reaches.slice(this.#toldStep + 1, step + 1)
      this.#toldStep = Math.max(this.#toldStep, step)
      return risen.map((to) => ({ to, shown: false }))
    }
    if (atMs - this.#steppedAtMs < Math.min(first, second - first)) return []
    this.#steppedAtMs = atMs
    this.#step += 1
    this.#toldStep = Math.max(this.#toldStep, this.#step)
    return [{ to: this.reach, shown: true }]
  }

  /** An escalated bell is louder by each step, and never by more than there is room for. */
  riseDb({ riseDb, mostRiseDb }: BellRules): number {
    return Math.min(this.#step * riseDb, mostRiseDb)
  }

  /** What the choice of the next sound needs to know of it. */
  ringing(card: Card, soundsHere: (reach: Reach, card: Card) => boolean, isHeld: boolean): Ringing {
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
      isAudible: this.isUnanswered && !isQuiet && !isHeld && soundsHere(this.reach, card),
    }
  }
}

/** What a bell comes from: the same cup, panel or gun, for the same reason. */
const sourceOf = ({ kind, thing }: Bell): string => `${kind} ${thing}`

type Source = {
  readonly raisedAtMs: readonly number[]
  readonly heldUntilMs: number
  readonly isDue: boolean
  /** It sounded here since it began to ring again and again. */
  readonly isHeard: boolean
}

const UNKNOWN: Source = { raisedAtMs: [], heldUntilMs: 0, isDue: false, isHeard: false }

/**
 * Keeps a bell quiet that rings again and again: raised three times within a minute, it stays on its
 * card without a sound until a minute after the last time. A bell that has not sounded yet is never
 * kept quiet: a cup past its pot life is heard, however often its figures change.
 */
export class Chatter {
  #sources: ReadonlyMap<string, Source> = new Map()

  /** @param due the bells whose deadlines have come at this instant, UTC ms */
  look(due: readonly Bell[], atMs: number): void {
    const isDue = new Set(due.map(sourceOf))
    const known = new Set([...isDue, ...this.#sources.keys()])
    const next = [...known].map((name) => {
      const before = this.#sources.get(name) ?? UNKNOWN
      return [name, seen(before, isDue.has(name), atMs)] as const
    })
    this.#sources = new Map(next.filter(([, source]) => isOfLate(source, atMs)))
  }

  /** Whether no bell has rung of late. */
  get isForgotten(): boolean {
    return this.#sources.size === 0
  }

  sounded(bell: Bell): void {
    const name = sourceOf(bell)
    const source = this.#sources.get(name)
    if (source) this.#sources = new Map(this.#sources).set(name, { ...source, isHeard: true })
  }

  /** Until when a bell is quiet, UTC ms; 0 while it may sound. */
  heldUntilMs(bell: Bell, atMs: number): number {
    const source = this.#sources.get(sourceOf(bell))
    return source?.isHeard && source.heldUntilMs > atMs ? source.heldUntilMs : 0
  }
}

function seen(before: Source, isDue: boolean, atMs: number): Source {
  if (!isDue || before.isDue) return { ...before, isDue }
  const isRecent = (at: number) => atMs - at < CHATTER_WITHIN_MS
  const raisedAtMs = [...before.raisedAtMs.filter(isRecent), atMs]
  const isTooOften = raisedAtMs.length >= CHATTER_TIMES
  return {
    ...before,
    raisedAtMs,
    isDue,
    heldUntilMs: isTooOften ? atMs + HOLD_MS : before.heldUntilMs,
  }
}

const isOfLate = ({ isDue, raisedAtMs, heldUntilMs }: Source, atMs: number): boolean =>
  isDue || heldUntilMs > atMs || atMs - (raisedAtMs.at(-1) ?? 0) < CHATTER_WITHIN_MS
