import { useEffect, useRef } from 'preact/hooks'
import { useUnsentMark } from '../outbox/status.tsx'
import { useShop } from '../shop/context.ts'
import { armed } from './armed.ts'
import { chipOf } from './chip.ts'
import { Shape } from './shape.tsx'
import { Timeline } from './timeline.tsx'
import type { Lane } from './view.ts'

type Props = {
  readonly lane: Lane
  readonly now: number
  /** Its place among those chosen, from 1; 0 for one that is not. */
  readonly order: number
  readonly isSeveral: boolean
  readonly onTouch: () => void
}

/** A panel: what it is, what it waits for, its stretch of time. The whole row is one target. */
export function LaneRow({ lane, now, order, isSeveral, onTouch }: Props) {
  const { words } = useShop()
  const unsent = useUnsentMark()
  const row = useRef<HTMLButtonElement>(null)
  // The sheet of acts takes room below: what was touched stays in sight.
  useEffect(() => {
    if (order > 0) row.current?.scrollIntoView({ block: 'nearest' })
  }, [order > 0])
  const chip = chipOf(lane, words.value, now)
  const stage = lane.stage === null ? '' : words.value.stage[lane.stage]
  const coats =
    lane.coatsPlanned > 0 ? words.value.wall.coats(stage, lane.coatsOn, lane.coatsPlanned) : stage
  const notes = [
    unsent(lane.panel),
    lane.isPaused ? words.value.wall.paused : '',
    lane.isBlind ? words.value.board.blind : '',
  ].filter((note) => note !== '')
  const isArmed = armed.value.some((a) => a.panels.includes(lane.panel))
  return (
    <li>
      <button
        ref={row}
        type="button"
        class="lane"
        data-panel={lane.panel}
        data-waits={lane.waits.for}
        data-armed={isArmed ? '' : undefined}
        aria-pressed={order > 0}
        onClick={onTouch}
      >
        <span class="who">
          <b>
            {isSeveral && <span class="pick digits">{order > 0 ? order : '–'}</span>}
            {lane.name}
          </b>
          <span class="minor">{[coats, ...notes, lane.jobTitle].join(' · ')}</span>
        </span>
        <span class={chip.sound ? 'chip bell' : 'chip'} data-sound={chip.sound ?? undefined}>
          <span class={chip.isCountdown ? 'big digits' : 'big'}>
            {chip.sound && !chip.isCountdown && <Shape sound={chip.sound} />}
            {chip.big}
          </span>
          <span class="small">{isArmed ? words.value.board.armedShort : chip.small}</span>
        </span>
        <Timeline lane={lane} now={now} words={words.value} />
      </button>
    </li>
  )
}
