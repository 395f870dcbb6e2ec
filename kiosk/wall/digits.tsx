import { effect, type ReadonlySignal } from '@preact/signals'
import { useLayoutEffect, useRef } from 'preact/hooks'
import { type Counting, digitsOf } from '../lanes/chip.ts'

/**
 * Digits that run. A tick writes their text where it is another one, and nothing is drawn again around them.
 * Of forty lanes a screen shows a few: what is out of sight is written when it comes into sight, and else
 * in slow steps, for whoever reads the page in another way.
 */

/** What a tick writes, and between which times, UTC ms, the text that stands there is right. */
type Hand = {
  readonly box: Element
  readonly node: Text
  readonly counting: Counting
  fromMs: number
  untilMs: number
}

const SECOND_MS = 1_000
/** So far out of sight digits are written as if they were in it: a list that is flicked shows none that are old. */
const NEAR = '200px 0px'

function write(hand: Hand, nowMs: number): void {
  const text = digitsOf(hand.counting, nowMs)
  if (hand.node.data !== text) hand.node.data = text
  const toMs = 'toMs' in hand.counting ? hand.counting.toMs : nowMs
  const seconds = Math.ceil((toMs - nowMs) / SECOND_MS)
  // Only a countdown's next change is worked out: the others are few, and are looked at each time.
  hand.fromMs = toMs - seconds * SECOND_MS
  hand.untilMs = seconds > 0 ? hand.fromMs + SECOND_MS : nowMs
}

const isRight = ({ fromMs, untilMs }: Hand, nowMs: number): boolean =>
  fromMs <= nowMs && nowMs < untilMs

/** The digits of one clock. */
class Hands {
  readonly #now: ReadonlySignal<number>
  readonly #all = new Map<Element, Hand>()
  readonly #near = new Set<Hand>()
  readonly #stops: readonly (() => void)[]

  constructor(now: ReadonlySignal<number>, slow: ReadonlySignal<number>) {
    this.#now = now
    // One effect for all of them: forty cost little more than one.
    this.#stops = [
      effect(() => this.#look(this.#near, now.value)),
      effect(() => {
        slow.value
        this.#look(this.#all.values(), now.peek())
      }),
      () => this.#sight.disconnect(),
    ]
  }

  readonly #sight = new IntersectionObserver((changes) => this.#see(changes), {
    // A list that scrolls within the page counts too, where the browser knows of it (Chromium 120).
    ...{ scrollMargin: NEAR },
    rootMargin: NEAR,
  })

  #see(changes: readonly IntersectionObserverEntry[]): void {
    for (const { target, isIntersecting } of changes) {
      const hand = this.#all.get(target)
      if (hand === undefined) continue
      if (isIntersecting) this.#near.add(hand)
      else this.#near.delete(hand)
    }
    this.#look(this.#near, this.#now.peek())
  }

  #look(hands: Iterable<Hand>, nowMs: number): void {
    for (const hand of hands) if (!isRight(hand, nowMs)) write(hand, nowMs)
  }

  get isIdle(): boolean {
    return this.#all.size === 0
  }

  add(hand: Hand): void {
    this.#all.set(hand.box, hand)
    // In sight until the browser says otherwise.
    this.#near.add(hand)
    write(hand, this.#now.peek())
    this.#sight.observe(hand.box)
  }

  remove(hand: Hand): void {
    this.#near.delete(hand)
    if (this.#all.get(hand.box) !== hand) return
    this.#all.delete(hand.box)
    this.#sight.unobserve(hand.box)
  }

  stop(): void {
    for (const stop of this.#stops) stop()
  }
}

const byClock = new WeakMap<ReadonlySignal<number>, Hands>()

type Clock = {
  readonly now: ReadonlySignal<number>
  /** The same in slow steps, for what is out of sight. */
  readonly slow: ReadonlySignal<number>
}

function run({ now, slow }: Clock, hand: Hand): () => void {
  const hands = byClock.get(now) ?? new Hands(now, slow)
  byClock.set(now, hands)
  hands.add(hand)
  return () => {
    hands.remove(hand)
    if (!hands.isIdle) return
    hands.stop()
    byClock.delete(now)
  }
}

type DigitsProps = Clock & { readonly counting: Counting; readonly class: string }

/** @param props.counting what they count to or from */
export function Digits({ counting, now, slow, class: name }: DigitsProps) {
  const box = useRef<HTMLSpanElement>(null)
  // After every drawing: it may have written a text of its own.
  useLayoutEffect(() => {
    const node = box.current?.firstChild
    return box.current && node instanceof Text
      ? run({ now, slow }, { box: box.current, node, counting, fromMs: 0, untilMs: 0 })
      : undefined
  })
  return (
    <span class={name} ref={box}>
      {digitsOf(counting, now.peek())}
    </span>
  )
}
