import type { ReadonlySignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { armed } from '../lanes/armed.ts'
import { chipOf, underText } from '../lanes/chip.ts'
import type { Lane } from '../lanes/lanes.ts'
import { sprayedWith } from '../lanes/sprayedWith.ts'
import { stepWord } from '../lanes/stepWord.ts'
import { Answer } from '../ui/answer.tsx'
import { Shape } from '../ui/drawings.tsx'
import { useUnsentMark } from '../ui/outboxParts.tsx'
import { Digits } from './digits.tsx'
import { Timeline } from './timeline.tsx'

type LaneRowProps = {
  readonly lane: Lane
  readonly now: ReadonlySignal<number>
  readonly slow: ReadonlySignal<number>
  /** Its place among those chosen, from 1; 0 for one that is not. */
  readonly order: number
  readonly isSeveral: boolean
  readonly onTouch: (panel: string) => void
  /** The coat on these panels was ended from here: their menu closes. */
  readonly onFinished: (panels: readonly string[]) => void
}

/** The letters of "59:59": an hour and more take smaller ones. */
const MINUTES = 5

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
            <Digits
              class={chip.big.length > MINUTES ? 'big digits hours' : 'big digits'}
              counting={counting}
              now={now}
              slow={slow}
            />
          ) : (
            <span class="big" style={{ '--letters': String(longestWord(chip.big)) }}>
              {chip.sound && <Shape sound={chip.sound} />}
              {chip.big}
            </span>
          )}
          <span class="small">
            {counting && chip.sound && <Shape sound={chip.sound} />}
            {isArmed ? armedText : chip.small}
          </span>
        </span>
        <Timeline lane={lane} now={now} slow={slow} words={words.value} />
      </button>
    </li>
  )
}

const longestWord = (text: string): number => Math.max(...text.split(' ').map((w) => w.length))

/** The panel's name, its job, and on a line of their own the coats of its step that are on and its notes. */
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
      <span class="minor">{lane.jobTitle}</span>
      <span class="minor">{[coats, ...notes].filter((text) => text !== '').join(' · ')}</span>
    </>
  )
}

/** One touch ends the coat on every panel of its pass. The other actions are behind the name. */
function Finish({ lane, now, slow, onFinished }: LaneRowProps) {
  const { words, state } = useShop()
  const { sending, ask } = useCommands()
  const panels = state.value ? sprayedWith(state.value, lane.panel) : []
  const { counting } = chipOf(lane, words.value, now.peek())
  const finish = async () => {
    if (isTaken(await ask('FinishCoat', { panels }))) onFinished(panels)
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
            {counting && <Digits class="digits" counting={counting} now={now} slow={slow} />}
          </b>{' '}
          {[coat, ...all].join(' · ')}
        </span>
      </button>
      <Answer sending={sending.value} now={now} />
    </div>
  )
}
