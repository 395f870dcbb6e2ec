import { type ReadonlySignal, signal } from '@preact/signals'
import { REARM_MS, type Reach, SILENCE_MS } from '../../machines/bell/kinds.ts'
import type { BellSaid, Known } from '../../machines/bell/machine.ts'
import type { BellRules } from '../../machines/bell/rules.ts'
import type { Clock, ClockReading } from '../device/clock.ts'
import {
  type Bell,
  byUrgency,
  type Card,
  FLOOD_WITHIN_MS,
  type Heard,
  independent,
  isDue,
  isFlood,
  nextSound,
  regroup,
} from './cards.ts'
import { Chatter, LiveBell } from './liveBell.ts'
import { type Bells, type Calm, calmOf, isStill, type Open } from './openBells.ts'
import { BellReporter, type RingerSaid } from './reporter.ts'
import { durationMs, PATTERNS, type Playing } from './sound/patterns.ts'
import type { Speaker } from './sound/speaker.ts'
import type { TickClock } from './ticker.ts'

export type RingerParts = {
  readonly clock: Clock
  readonly delays: TickClock
  readonly speaker: Pick<Speaker, 'play' | 'soundReady'>
  readonly monotonicMs: () => number
  /** Whether this kiosk sounds a card of such reach. */
  readonly soundsHere: (reach: Reach, card: Card) => boolean
  readonly tell: (said: RingerSaid) => void
}

/** The bells of a kiosk: one machine a card, one sound at a time. Driven by `look` at every tick. */
export class Ringer {
  readonly #parts: RingerParts
  readonly #shown = signal<Bells>({ cards: [], inFlood: false, silencedUntilMs: 0 })
  #cards: readonly Card[] = []
  /** Alarms that ended before anybody answered, until somebody looks. */
  #missed: readonly Card[] = []
  readonly #live = new Map<string, LiveBell>()
  /** The deadline each bell rings for: recomputed a little later it does not fall silent. */
  #rungFor: ReadonlyMap<string, number> = new Map()
  readonly #telling: BellReporter
  readonly #chatter = new Chatter()
  #raisedAtMs: readonly number[] = []
  #silencedUntilMs = 0
  /** Set by a look that found nothing. */
  #calm: Calm | null = null
  #inFlood = false
  #last: Heard | null = null
  #playing: { readonly key: string; readonly sound: Playing | null } | null = null

  constructor(parts: RingerParts) {
    this.#parts = parts
    this.#telling = new BellReporter(parts.tell)
  }

  get bells(): ReadonlySignal<Bells> {
    return this.#shown
  }

  /** Compares all deadlines with the time, and sounds what is due. To be called at every tick. */
  look(open: Open, reading: ClockReading = this.#parts.clock.read()): void {
    this.#parts.delays.look()
    if (this.#calm && isStill(this.#calm, open, reading)) return
    const due = this.#due(open)
    const before = this.#cards
    this.#cards = regroup(before, due, {
      isOpen: (card) => this.#live.get(card)?.isUnanswered === true,
      isFresh: (bell) => isFresh(open.known(bell.key)),
    })
    for (const card of before)
      if (!this.#cards.some((c) => c.key === card.key)) this.#end(card, open.bells)
    for (const card of this.#cards) {
      const live = this.#live.get(card.key)
      if (live === undefined) this.#raise(card, open)
      else
        live.hearFromLog(
          card.bells.map((b) => open.known(b.key)),
          this.#nowMs(),
        )
    }
    this.#rise(open)
    this.#sound(open)
    this.#tellRang(open)
    this.#show()
    this.#calm = this.#calmNow(open)
  }

  /** Until when a look would find nothing either; null while a bell rings, or did of late. */
  #calmNow(open: Open): Calm | null {
    const isSilent = this.#live.size === 0 && this.#silencedUntilMs === 0
    const isCalm = isSilent && this.#chatter.isForgotten && this.#telling.isDone
    return isCalm ? calmOf(open, this.#parts.clock.read()) : null
  }

  /** Whether nothing rings, nor will until then unless something happens. @param ms kiosk time, UTC ms */
  isCalmUntil(ms: number): boolean {
    return this.#calm !== null && ms < this.#calm.untilMs
  }

  acknowledge(card: string): void {
    this.#live.get(card)?.send({ type: 'ACKNOWLEDGE' })
    this.#show()
  }

  snooze(card: string, forMs: number): void {
    this.#live.get(card)?.send({ type: 'SNOOZE', atMs: this.#nowMs(), forMs })
    this.#show()
  }

  unsnooze(card: string): void {
    this.#live.get(card)?.send({ type: 'UNSNOOZE', atMs: this.#nowMs() })
    this.#show()
  }

  /** A minute of quiet on this kiosk; nothing is acknowledged, and a new bell ends it. */
  silence(): void {
    const atMs = this.#nowMs()
    this.#silencedUntilMs = atMs + SILENCE_MS
    for (const live of this.#live.values()) live.send({ type: 'SILENCE', atMs })
    this.#show()
  }

  /** Somebody has seen a missed alarm. */
  view(card: string): void {
    this.#missed = this.#missed.filter((c) => c.key !== card)
    this.#live.get(card)?.send({ type: 'VIEW' })
    this.#drop(card)
    this.#show()
  }

  #nowMs(): number {
    return this.#parts.clock.read().nowMs
  }

  #due(open: Open): readonly Bell[] {
    const reading = this.#parts.clock.read()
    const isStill = (b: Bell) => {
      const rungFor = this.#rungFor.get(b.key)
      return rungFor !== undefined && b.dueAt <= rungFor + REARM_MS
    }
    const due = open.bells.filter((b) => isDue(b, reading) || isStill(b))
    this.#rungFor = new Map(due.map((b) => [b.key, this.#rungFor.get(b.key) ?? b.dueAt]))
    this.#chatter.look(independent(due, open.facts), reading.nowMs)
    // What is held stays in sight while its deadline moves to and fro.
    const onCards = new Set(this.#cards.flatMap((card) => card.bells.map((b) => b.key)))
    const isDueNow = new Set(due.map((b) => b.key))
    const held = open.bells.filter(
      (b) => !isDueNow.has(b.key) && onCards.has(b.key) && this.#heldUntilMs(b) > 0,
    )
    return independent([...due, ...held], open.facts)
  }

  #raise(card: Card, open: Open): void {
    const atMs = this.#nowMs()
    this.#missed = this.#missed.filter((c) => c.key !== card.key)
    this.#drop(card.key)
    const { escalateMs } = open.rules
    const hear = (said: BellSaid) => this.#hear(said, open.rules)
    const live = new LiveBell(card, atMs, { delays: this.#parts.delays, escalateMs, hear })
    this.#live.set(card.key, live)
    live.raise(open.known(card.key))
    if (!live.isUnanswered) return
    const isRecent = (at: number) => atMs - at < FLOOD_WITHIN_MS
    this.#raisedAtMs = [...this.#raisedAtMs.filter(isRecent), atMs]
    this.#endSilence(atMs)
  }

  #endSilence(atMs: number): void {
    if (this.#silencedUntilMs <= atMs) return
    this.#silencedUntilMs = 0
    for (const live of this.#live.values()) live.send({ type: 'UNSILENCE', atMs })
  }

  /** Its deadlines are gone, or have moved later. */
  #end(card: Card, stillOpen: readonly Bell[]): void {
    const isMoved = stillOpen.some((b) => card.bells.some((own) => own.key === b.key))
    const live = this.#live.get(card.key)
    live?.send({ type: isMoved ? 'NOT_DUE' : 'CLEAR' })
    if (live?.state === 'missed') this.#missed = [...this.#missed, card]
    else this.#drop(card.key)
  }

  #drop(key: string): void {
    this.#live.get(key)?.stop()
    this.#live.delete(key)
  }

  readonly #heldUntilMs = (bell: Bell) => this.#chatter.heldUntilMs(bell, this.#nowMs())

  /** A card is quiet while all its bells are. */
  #cardHeldUntilMs(card: Card): number {
    return Math.min(...card.bells.map(this.#heldUntilMs))
  }

  #rise({ rules }: Open): void {
    const atMs = this.#nowMs()
    for (const card of this.#cards) {
      const risen = this.#live.get(card.key)?.rise(atMs, rules) ?? []
      for (const { to, shown } of risen) this.#telling.escalated(card, atMs, to, shown)
    }
  }

  #sound({ isFloodKnown }: Open): void {
    const nowMs = this.#nowMs()
    const { soundsHere } = this.#parts
    const rows = this.#cards.flatMap((card) => {
      const live = this.#live.get(card.key)
      if (live === undefined) return []
      return [{ live, row: live.ringing(card, soundsHere, this.#cardHeldUntilMs(card) > 0) }]
    })
    const unanswered = rows.filter(({ live }) => live.isUnanswered).map(({ row }) => row)
    this.#inFlood = isFlood(unanswered, this.#raisedAtMs, nowMs)
    this.#telling.flood(this.#inFlood, nowMs, unanswered.length, isFloodKnown)
    // A bell that cannot be heard keeps its turn, and sounds as soon as a touch turns the sound on.
    if (!this.#parts.speaker.soundReady.value) return
    const turn = nextSound(unanswered, this.#last, this.#parts.monotonicMs(), this.#inFlood)
    if (turn !== null) this.#live.get(turn)?.send({ type: 'TURN', atMs: nowMs })
  }

  #hear(said: BellSaid, rules: BellRules): void {
    if (said.type === 'play') this.#play(said, rules)
    else if (this.#playing?.key === said.key) {
      this.#playing.sound?.stop()
      this.#playing = null
    }
  }

  #play({ key, sound }: Extract<BellSaid, { type: 'play' }>, rules: BellRules): void {
    const playing = this.#parts.speaker.play(sound, this.#live.get(key)?.riseDb(rules) ?? 0)
    for (const bell of this.#cards.find((c) => c.key === key)?.bells ?? [])
      this.#chatter.sounded(bell)
    this.#playing = { key, sound: playing }
    this.#last = { sound, endedAtMs: this.#parts.monotonicMs() + durationMs(PATTERNS[sound]) }
  }

  /** Every bell that sounds here, or should, is logged once, also one that joined its card later. */
  #tellRang({ known }: Open): void {
    const atMs = this.#nowMs()
    for (const card of this.#cards) {
      const live = this.#live.get(card.key)
      if (live === undefined) continue
      for (const bell of card.bells) {
        const isHeld = this.#heldUntilMs(bell) > 0
        // Held it is quiet, and was heard before that.
        const isHeard = isHeld || live.context.plays > 0
        if (this.#rungFor.has(bell.key) && (isHeard || this.#waitsForSound(live, card)))
          this.#telling.rang(bell, atMs, isHeard, known(bell.key))
        this.#telling.held(bell, atMs, isHeld, known(bell.key))
      }
    }
    this.#telling.look(this.#cards, known, (key) => this.#rungFor.has(key))
  }

  /** It should sound, on a kiosk that cannot yet. */
  #waitsForSound(live: LiveBell, card: Card): boolean {
    const { soundsHere, speaker } = this.#parts
    return live.isUnanswered && !speaker.soundReady.value && soundsHere(live.reach, card)
  }

  #show(): void {
    const cards = [...this.#cards, ...this.#missed].flatMap((card) => {
      const live = this.#live.get(card.key)
      if (live === undefined) return []
      const { state, raisedAtMs, reach, context } = live
      const { snoozes, snoozedUntilMs } = context
      const heldUntilMs = this.#cardHeldUntilMs(card)
      return [{ ...card, state, raisedAtMs, reach, snoozes, snoozedUntilMs, heldUntilMs }]
    })
    const next: Bells = {
      cards: cards.sort(byUrgency),
      inFlood: this.#inFlood,
      silencedUntilMs: this.#silencedUntilMs > this.#nowMs() ? this.#silencedUntilMs : 0,
    }
    // Screens draw on a change, not at every tick.
    if (JSON.stringify(next) !== JSON.stringify(this.#shown.value)) this.#shown.value = next
  }
}

const isFresh = (known: Known | undefined): boolean =>
  known === undefined || (!known.isAcknowledged && !known.snoozes)
