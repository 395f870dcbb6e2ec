import { effect, type ReadonlySignal } from '@preact/signals'
import { useLayoutEffect, useRef } from 'preact/hooks'
import { type Counting, digitsOf } from '../lanes/chip.ts'

/** Digits that run. A tick writes their text where it is another one; nothing is drawn again around them. */

/** What a tick writes, and between which times, UTC ms, the text that stands there is right. */
type Hand = { readonly node: Text; readonly counting: Counting; fromMs: number; untilMs: number }

const SECOND_MS = 1_000

function write(hand: Hand, nowMs: number): void {
  const text = digitsOf(hand.counting, nowMs)
  if (hand.node.data !== text) hand.node.data = text
  const toMs = 'toMs' in hand.counting ? hand.counting.toMs : nowMs
  const seconds = Math.ceil((toMs - nowMs) / SECOND_MS)
  // Only a countdown's next change is worked out: the others are few, and are looked at each time.
  hand.fromMs = toMs - seconds * SECOND_MS
  hand.untilMs = seconds > 0 ? hand.fromMs + SECOND_MS : nowMs
}

type Hands = { readonly all: Set<Hand>; stop: (() => void) | null }
const byClock = new WeakMap<ReadonlySignal<number>, Hands>()

/** One effect for all digits of a clock: forty of them cost little more than one. */
function run(now: ReadonlySignal<number>, hand: Hand): () => void {
  const hands = byClock.get(now) ?? { all: new Set(), stop: null }
  byClock.set(now, hands)
  hands.all.add(hand)
  write(hand, now.peek())
  hands.stop ??= effect(() => {
    const nowMs = now.value
    for (const one of hands.all) if (nowMs < one.fromMs || nowMs >= one.untilMs) write(one, nowMs)
  })
  return () => {
    hands.all.delete(hand)
    if (hands.all.size > 0) return
    hands.stop?.()
    hands.stop = null
  }
}

type Props = {
  readonly counting: Counting
  readonly now: ReadonlySignal<number>
  readonly class: string
}

export function Digits({ counting, now, class: name }: Props) {
  const box = useRef<HTMLSpanElement>(null)
  // After every drawing: it may have written a text of its own.
  useLayoutEffect(() => {
    const node = box.current?.firstChild
    return node instanceof Text ? run(now, { node, counting, fromMs: 0, untilMs: 0 }) : undefined
  })
  return (
    <span class={name} ref={box}>
      {digitsOf(counting, now.peek())}
    </span>
  )
}
