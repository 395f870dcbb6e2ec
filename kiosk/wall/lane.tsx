import { effect, type ReadonlySignal } from '@preact/signals'
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { armed } from '../lanes/armed.ts'
import { type Counting, chipOf, digitsOf, underText } from '../lanes/chip.ts'
import { stepWord } from '../lanes/handActs.ts'
import type { Lane } from '../lanes/lanes.ts'
import { sprayedWith } from '../lanes/sprayedWith.ts'
import { Answer } from '../ui/answer.tsx'
import { Shape } from '../ui/drawings.tsx'
import { useUnsentMark } from '../ui/outboxParts.tsx'
import { Timeline } from './timeline.tsx'

type LaneRowProps = {
  readonly lane: Lane
  readonly now: ReadonlySignal<number>
  readonly slow: ReadonlySignal<number>
  /** Its place among those chosen, from 1; 0 for one that is not. */
  readonly order: number
  readonly isSeveral: boolean
  readonly onTouch: (panel: string) => void
  /** The coat was ended from here: the lane's menu closes. */
  readonly onFinished: () => void
}

/** A panel: what it is, what it waits for, its stretch of time. The whole row is one target. */
export function LaneRow(props: LaneRowProps) {
  const { lane, now, slow, order, isSeveral, onTouch } = props
  const { words } = useShop()
  const row = useRef<HTMLButtonElement>(null)
  // The sheet of acts takes room below: what was touched stays in sight.
  useEffect(() => {
    if (order > 0) row.current?.scrollIntoView({ block: 'nearest' })
  }, [order > 0])
  const chip = chipOf(lane, words.value, now.peek())
  const { counting } = chip
  const isArmed = armed.value.some((a) => a.panels.includes(lane.panel))
  const { board } = words.value
  const armedText = lane.waits.for === 'flash' ? board.armedShort : board.pressStart
  const target = {
    ref: row,
    type: 'button',
    'data-panel': lane.panel,
    'data-waits': lane.waits.for,
    'data-armed': isArmed ? '' : undefined,
    'aria-pressed': order > 0,
    onClick: () => onTouch(lane.panel),
  } as const
  if (lane.waits.for === 'spraying' && !isSeveral) {
    return (
      <li>
        <div class="lane">
          <button {...target} class="who">
            <Who {...props} />
          </button>
          <Finish {...props} />
          <Timeline lane={lane} now={now} slow={slow} words={words.value} />
        </div>
      </li>
    )
  }
  return (
    <li>
      <button {...target} class="lane">
        <span class="who">
          <Who {...props} />
        </span>
        <span class={chip.sound ? 'chip bell' : 'chip'} data-sound={chip.sound ?? undefined}>
          {counting ? (
            <Digits class="big digits" counting={counting} now={now} />
          ) : (
            <span class="big">
              {chip.sound && <Shape sound={chip.sound} />}
              {chip.big}
            </span>
          )}
          <span class="small">{isArmed ? armedText : chip.small}</span>
        </span>
        <Timeline lane={lane} now={now} slow={slow} words={words.value} />
      </button>
    </li>
  )
}

/** The panel's name, the coats of its step that are on, and its notes. */
function Who({ lane, order, isSeveral }: LaneRowProps) {
  const { words } = useShop()
  const unsent = useUnsentMark()
  const stage = stepWord(lane, words.value)
  const coats =
    lane.coatsPlanned > 0 ? words.value.wall.coats(stage, lane.coatsOn, lane.coatsPlanned) : stage
  const notes = [
    unsent(lane.panel),
    underText(lane, words.value),
    lane.isPaused ? words.value.wall.paused : '',
    lane.noWay === null ? '' : words.value.wall.noWay(lane.noWay.at + 1),
    lane.isBlind ? words.value.board.blind : '',
    lane.isPartCold ? words.value.board.partCold : '',
  ]
  return (
    <>
      <b>
        {isSeveral && <span class="pick digits">{order > 0 ? order : '–'}</span>}
        {lane.name}
      </b>
      <span class="minor">
        {[coats, ...notes, lane.jobTitle].filter((text) => text !== '').join(' · ')}
      </span>
    </>
  )
}

/** One touch ends the coat on every panel of its pass. The other actions are behind the name. */
function Finish({ lane, now, onFinished }: LaneRowProps) {
  const { words, state } = useShop()
  const { sending, ask } = useCommands()
  const panels = state.value ? sprayedWith(state.value, lane.panel) : []
  const { counting } = chipOf(lane, words.value, now.peek())
  const finish = async () => {
    if (isTaken(await ask('FinishCoat', { panels }))) onFinished()
  }
  const coat = `${lane.stage === null ? '' : words.value.stage[lane.stage]} ${lane.coatsOn + 1}`
  const all = panels.length > 1 ? [words.value.board.panels(panels.length)] : []
  return (
    <div class="finish">
      <button
        type="button"
        class="chip main"
        data-act="FinishCoat"
        disabled={sending.value.busy}
        onClick={() => void finish()}
      >
        <span class="big">{words.value.act.finish}</span>
        <span class="small">
          <b>
            {words.value.board.sprayingNow}{' '}
            {counting && <Digits class="digits" counting={counting} now={now} />}
          </b>{' '}
          {[coat, ...all].join(' · ')}
        </span>
      </button>
      <Answer sending={sending.value} now={now} />
    </div>
  )
}

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

type DigitsProps = {
  readonly counting: Counting
  readonly now: ReadonlySignal<number>
  readonly class: string
}

function Digits({ counting, now, class: name }: DigitsProps) {
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
