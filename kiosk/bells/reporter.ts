import { bellOf } from '../../machines/bell/fold.ts'
import type { Reach } from '../../machines/bell/kinds.ts'
import type { Known } from '../../machines/bell/machine.ts'
import type { CommandInput, CommandType } from '../../machines/commands.ts'
import type { State } from '../../machines/state.ts'
import type { Send, SendExtra } from '../commands/send.ts'
import type { Bell, Card } from './cards.ts'
import type { Shown } from './openBells.ts'

/** What a kiosk reports of its bells: each thing once, and nothing of a bell before its ring. */

/** `wasHeard` is false where the loudspeaker was not ready; `shown` where the shop is closed. */
export type RingerSaid =
  | { type: 'rang'; bell: Bell; atMs: number; wasHeard: boolean }
  | { type: 'escalated'; bell: Bell; atMs: number; to: Exclude<Reach, 'position'>; shown: boolean }
  | { type: 'held'; bell: Bell; atMs: number }
  | { type: 'flood'; isOn: boolean; atMs: number; count: number }

type Told<T extends CommandType> = { [One in T]: readonly [One, CommandInput<One>, SendExtra?] }[T]

/** The command that tells it; the log knows each once, whichever kiosks say it. */
export function commandOf(
  said: RingerSaid,
): Told<'RingBell' | 'EscalateBell' | 'HoldBell' | 'ReportFlood'> {
  switch (said.type) {
    case 'rang':
      return ['RingBell', { key: said.bell.key, wasHeard: said.wasHeard }]
    case 'escalated':
      return ['EscalateBell', { key: said.bell.key, to: said.to }]
    case 'held':
      return ['HoldBell', { key: said.bell.key }]
    case 'flood':
      // The end of a flood is logged once the calm has lasted.
      return ['ReportFlood', { isOn: said.isOn, count: said.count }, { at: said.atMs }]
  }
}

/** A flood that comes back within this has not ended: a few answers do not make it two. */
const CALM_MS = 60_000

type Escalated = Extract<RingerSaid, { type: 'escalated' }>
type Calm = { readonly atMs: number; readonly count: number }

export class BellReporter {
  readonly #tell: (said: RingerSaid) => void
  readonly #rang = new Set<string>()
  readonly #held = new Set<string>()
  /** Said of bells whose turn to ring has not come. */
  #later: readonly Escalated[] = []
  /** Null before anything was said of floods. */
  #inFlood: boolean | null = null
  #calm: Calm | null = null

  constructor(tell: (said: RingerSaid) => void) {
    this.#tell = tell
  }

  /** Whether nothing is left to be said, whatever time passes. */
  get isDone(): boolean {
    return this.#inFlood !== true && this.#later.length === 0
  }

  rang(bell: Bell, atMs: number, wasHeard: boolean, known: Known | undefined): void {
    if (this.#rang.has(bell.key) || known !== undefined) return
    this.#rang.add(bell.key)
    this.#tell({ type: 'rang', bell, atMs, wasHeard })
  }

  escalated(card: Card, atMs: number, to: Reach, shown: boolean): void {
    // It rang there first, and is never told to have come back.
    if (to === 'position') return
    const said = card.bells.map((bell) => ({ type: 'escalated' as const, bell, atMs, to, shown }))
    this.#later = [...this.#later, ...said]
  }

  /** @param isHeld whether it is quiet now because it called again and again: told once its ring is known */
  held(bell: Bell, atMs: number, isHeld: boolean, known: Known | undefined): void {
    if (!isHeld) this.#held.delete(bell.key)
    else if (known !== undefined && !this.#held.has(bell.key)) {
      this.#held.add(bell.key)
      this.#tell({ type: 'held', bell, atMs })
    }
  }

  /**
   * Sends what waited for its bell to ring, and forgets the bells that are gone. A ring is sent again
   * once its deadline has gone and come back: the log may have refused the first as over by then.
   */
  look(
    cards: readonly Card[],
    known: (key: string) => Known | undefined,
    isDue: (key: string) => boolean,
  ): void {
    const here = new Set(cards.flatMap((card) => card.bells.map((bell) => bell.key)))
    for (const key of this.#held) if (!here.has(key)) this.#held.delete(key)
    for (const key of this.#rang) if (!here.has(key) || !isDue(key)) this.#rang.delete(key)
    const open = this.#later.filter(({ bell }) => here.has(bell.key))
    const hasRung = ({ bell }: Escalated) =>
      this.#rang.has(bell.key) || known(bell.key) !== undefined
    this.#later = open.filter((said) => !hasRung(said))
    for (const said of open.filter(hasRung)) this.#tell(said)
  }

  /** @param isKnown whether the log knows of a flood: one that this kiosk did not end before it was shut */
  flood(isOn: boolean, atMs: number, count: number, isKnown: boolean): void {
    if (this.#inFlood === null && isKnown) this.#inFlood = true
    if (isOn) {
      this.#calm = null
      if (!this.#inFlood) this.#tell({ type: 'flood', isOn, atMs, count })
      this.#inFlood = true
    } else if (this.#inFlood) {
      this.#calm ??= { atMs, count }
      if (atMs - this.#calm.atMs < CALM_MS) return
      this.#tell({ type: 'flood', isOn, ...this.#calm })
      this.#calm = null
      this.#inFlood = false
    }
  }
}

/**
 * Tells the log how a card was answered, bell by bell. One that was answered before its turn to
 * sound came is not in the log yet: its ring is sent first, or the answer would have nothing to answer.
 * @param snoozeMin for how long it is put off; null where it is acknowledged
 */
export async function answerBell(
  send: Send,
  state: State,
  card: Shown,
  snoozeMin: number | null = null,
): Promise<void> {
  for (const { key } of card.bells) {
    const hasRung = (bellOf(state, key)?.rangAt ?? null) !== null
    if (!hasRung) await send('RingBell', { key, wasHeard: false })
    if (snoozeMin === null) await send('AcknowledgeBell', { key })
    else await send('SnoozeBell', { key, minutes: snoozeMin })
  }
}
