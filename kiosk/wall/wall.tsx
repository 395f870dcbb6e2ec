import { useSignal } from '@preact/signals'
import { useShop } from '../commands/shop.ts'
import { screenNow } from '../device/screenNow.ts'
import { PassSheet } from '../lanes/actSheet.tsx'
import { lanesOf } from '../lanes/lanes.ts'
import { TryPractice } from '../ui/practice.tsx'
import { hashOf } from '../ui/route.ts'
import type { ViewProps } from '../ui/view.ts'
import { Foot } from './foot.tsx'
import { LaneRow } from './lane.tsx'
import { Scale } from './timeline.tsx'

/** With few lanes everything is large; from this many on, a row is only as high as it must be. */
const FEW = 3
const MANY = 8
const densityOf = (lanes: number) => (lanes <= FEW ? 'few' : lanes < MANY ? 'some' : 'many')

/** All that is running: lanes of panels, cups and guns, what comes next. */
export function Wall({ kiosk }: ViewProps) {
  const { state, words } = useShop()
  const chosen = useSignal<readonly string[]>([])
  const isSeveral = useSignal(false)
  const now = screenNow(kiosk).value
  if (!state.value) return <p class="minor">…</p>
  const lanes = lanesOf(state.value, now)
  const picked = chosen.value.flatMap((id) => lanes.find((lane) => lane.panel === id) ?? [])
  const toggle = (panel: string) => {
    const isIn = chosen.value.includes(panel)
    const others = isSeveral.value ? chosen.value.filter((id) => id !== panel) : []
    chosen.value = isIn ? others : [...others, panel]
  }
  const close = () => {
    chosen.value = []
    isSeveral.value = false
  }
  return (
    <div class="wall" data-density={densityOf(lanes.length)}>
      {lanes.length === 0 ? <Empty /> : <Scale words={words.value} />}
      {isSeveral.value && <p class="hint">{words.value.board.severalHint}</p>}
      <div class="lanes-area">
        <ul class="lanes">
          {lanes.map((lane) => (
            <LaneRow
              key={lane.panel}
              lane={lane}
              now={now}
              order={picked.indexOf(lane) + 1}
              isSeveral={isSeveral.value}
              onTouch={() => toggle(lane.panel)}
              onFinished={close}
            />
          ))}
        </ul>
      </div>
      {picked.length > 0 ? (
        <PassSheet
          key={isSeveral.value ? 'several' : picked[0]?.panel}
          state={state.value}
          lanes={picked}
          now={now}
          onDone={close}
        />
      ) : (
        <Foot state={state.value} now={now}>
          <div class="wall-tools">
            {lanes.length > 1 && (
              <button
                type="button"
                data-act="several"
                aria-pressed={isSeveral.value}
                onClick={() => {
                  isSeveral.value = !isSeveral.value
                }}
              >
                {words.value.board.several}
              </button>
            )}
            {lanes.length > 0 && (
              <a class="button" href={hashOf('booth')}>
                {words.value.board.booth}
              </a>
            )}
          </div>
        </Foot>
      )}
    </div>
  )
}

function Empty() {
  const { words } = useShop()
  return (
    <section class="empty">
      <h2>{words.value.wall.empty}</h2>
      <p>{words.value.wall.emptyHint}</p>
      <a class="button main" href={hashOf('jobs')}>
        {words.value.wall.openJob}
      </a>
      <TryPractice />
    </section>
  )
}
