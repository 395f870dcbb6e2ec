import { computed, type ReadonlySignal } from '@preact/signals'

const MINUTE_MS = 60_000

/**
 * An instant that remembers what it was compared with: what was calculated at it is the same until the
 * next of those instants comes, and was so since the last one.
 */
export class Moment {
  readonly ms: number
  #fromMs = Number.NEGATIVE_INFINITY
  #untilMs = Number.POSITIVE_INFINITY

  /** @param ms UTC ms */
  constructor(ms: number) {
    this.ms = ms
  }

  /** Whether an instant, UTC ms, has come. Every comparison with the time has to be made here. */
  isPast(atMs: number): boolean {
    if (this.ms >= atMs) {
      this.#fromMs = Math.max(this.#fromMs, atMs)
      return true
    }
    this.#untilMs = Math.min(this.#untilMs, atMs)
    return false
  }

  /** How long it is to an instant, or since it, in whole minutes begun: that changes minute by minute. */
  minutesFrom(atMs: number): number {
    const minutes = Math.ceil(Math.abs(atMs - this.ms) / MINUTE_MS)
    if (this.isPast(atMs)) {
      this.isPast(atMs + (minutes - 1) * MINUTE_MS + 1)
      this.isPast(atMs + minutes * MINUTE_MS + 1)
    } else {
      this.isPast(atMs - minutes * MINUTE_MS)
      this.isPast(atMs - (minutes - 1) * MINUTE_MS)
    }
    return minutes
  }

  /** Whether what was calculated at this instant is the same at another one, earlier or later. */
  holdsAt(ms: number): boolean {
    return this.#fromMs <= ms && ms < this.#untilMs
  }

  /** What rests on something calculated at another instant that still holds changes when that does. */
  restsOn(other: Moment): void {
    this.#fromMs = Math.max(this.#fromMs, other.#fromMs)
    this.#untilMs = Math.min(this.#untilMs, other.#untilMs)
  }
}

/** What is calculated by one ticking time: a tick compares it with one stretch of time, not with each. */
type Coming = {
  /** Another number when one of the instants has come. */
  readonly turns: ReadonlySignal<number>
  readonly moment: () => Moment
}

const coming = new WeakMap<ReadonlySignal<number>, Coming>()

function comingOf(now: ReadonlySignal<number>): Coming {
  const known = coming.get(now)
  if (known) return known
  let moment = new Moment(now.peek())
  let turn = 0
  const turns = computed(() => {
    const ms = now.value
    if (moment.holdsAt(ms)) return turn
    // Whatever still rests on an instant says so again.
    moment = new Moment(ms)
    turn += 1
    return turn
  })
  const made = { turns, moment: () => moment }
  coming.set(now, made)
  return made
}

/**
 * Calculated when a signal that it reads changes, or when an instant comes that it asked about, and not
 * at every tick; also when the clock is set back before such an instant.
 * @param now the ticking time, UTC ms; `calculate` must not read it itself
 */
export function atMoments<T>(
  now: ReadonlySignal<number>,
  calculate: (moment: Moment) => T,
): ReadonlySignal<T> {
  const all = comingOf(now)
  let last: Moment | null = null
  let turn = 0
  const turns = computed(() => {
    all.turns.value
    if (last?.holdsAt(now.peek())) all.moment().restsOn(last)
    else turn += 1
    return turn
  })
  return computed(() => {
    turns.value
    last = new Moment(now.peek())
    const calculated = calculate(last)
    all.moment().restsOn(last)
    return calculated
  })
}

/** A time, UTC ms, or a moment that is to remember what the time was compared with. */
export type Now = number | Moment

export const momentOf = (now: Now): Moment => (typeof now === 'number' ? new Moment(now) : now)
