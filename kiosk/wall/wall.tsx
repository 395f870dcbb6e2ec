import { type ReadonlySignal, useSignal } from '@preact/signals'
import { useMemo, useRef } from 'preact/hooks'
import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import { screenNow, slowNow } from '../device/runtime.ts'
import { type Lane, lanesKept } from '../lanes/lanes.ts'
import { atMoments } from '../lanes/moment.ts'
import { again } from '../ui/again.ts'
import { hashOf } from '../ui/route.ts'
import { later, type ViewProps } from '../ui/screen.tsx'
import type { Words } from '../words/en.ts'
import { useBelow } from './below.ts'
import { Foot } from './foot.tsx'
import { LaneRow } from './lane.tsx'
import { Scale } from './timeline.tsx'

/** With few lanes everything is large; from this many on, a row is only as high as it must be. */
const FEW = 3
const MANY = 8
const densityOf = (lanes: number) => (lanes <= FEW ? 'few' : lanes < MANY ? 'some' : 'many')

/** What may be done on a lane: fetched once the lanes stand. */
export const actSheet = () => again(() => import('../lanes/actSheet.tsx'))
const PassSheet = later(async () => (await actSheet()).PassSheet)

/** For a shop that has no panel in work: fetched by it alone. */
const Empty = later(async () => (await again(() => import('./empty.tsx'))).Empty)

/** All that is running: lanes of panels, cups and guns, what comes next. */
export function Wall(props: ViewProps) {
  const { kiosk } = props
  const { state, words } = useShop()
  const chosen = useSignal<readonly string[]>([])
  const isSeveral = useSignal(false)
  const now = screenNow(kiosk)
  const slow = slowNow(kiosk)
  const lanes = useMemo(() => lanesOn(state, now), [state, now]).value
  const list = useRef<HTMLUListElement>(null)
  const below = useBelow(list, lanes.map((lane) => lane.panel).join())
  // The same for as long as the Wall is there: a lane that does not change is not drawn again.
  const { toggle, close } = useMemo(
    () => ({
      toggle: (panel: string) => {
        const isIn = chosen.value.includes(panel)
        const others = isSeveral.value ? chosen.value.filter((id) => id !== panel) : []
        chosen.value = isIn ? others : [...others, panel]
      },
      // Only theirs: another menu may have been opened while the answer was on its way.
      close: (panels: readonly string[]) => {
        chosen.value = chosen.value.filter((id) => !panels.includes(id))
        if (chosen.value.length === 0) isSeveral.value = false
      },
    }),
    [],
  )
  if (!state.value) return <p class="minor">…</p>
  const picked = chosen.value.flatMap((id) => lanes.find((lane) => lane.panel === id) ?? [])
  return (
    <div class="wall" data-density={densityOf(lanes.length)}>
      {lanes.length === 0 ? <Empty {...props} /> : <Scale words={words.value} />}
      {isSeveral.value && <p class="hint">{words.value.board.severalHint}</p>}
      <div class="lanes-area">
        <ul class="lanes" ref={list} style={{ '--pairs': Math.ceil(lanes.length / 2) }}>
          {lanes.map((lane) => (
            <LaneRow
              key={lane.panel}
              lane={lane}
              now={now}
              slow={slow}
              order={picked.indexOf(lane) + 1}
              isSeveral={isSeveral.value}
              onTouch={toggle}
              onFinished={close}
            />
          ))}
        </ul>
        {below.value > 0 && (
          <p class="below" aria-hidden="true">
            ▾ {words.value.board.panelsBelow(below.value)}
          </p>
        )}
      </div>
      {picked.length > 0 ? (
        <Sheet
          key={isSeveral.value ? 'several' : picked[0]?.panel}
          lanes={picked}
          now={now}
          isChoosing={isSeveral.value}
          onDone={() => close(picked.map(({ panel }) => panel))}
        />
      ) : (
        <Foot now={now} legend={legendOf(lanes, words.value)}>
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
            <a class="button" data-act="mix" href={hashOf('bench')}>
              {words.value.wall.mix}
            </a>
            <a class="button" data-act="help" href={hashOf('help', 'wall')}>
              {words.value.board.help}
            </a>
          </div>
        </Foot>
      )}
    </div>
  )
}

/** What the letters stand for that mark the coats of these lanes: "B base · C clear". */
function legendOf(lanes: readonly Lane[], { letter, stage: names }: Words): string {
  const stages = lanes.flatMap(({ marks }) => marks.map(({ stage }) => stage))
  return [...new Set(stages)]
    .flatMap((stage) => (letter[stage] === undefined ? [] : [`${letter[stage]} ${names[stage]}`]))
    .join(' · ')
}

/** The lanes, and each anew when its own moment comes. */
function lanesOn(
  state: ReadonlySignal<State | null>,
  now: ReadonlySignal<number>,
): ReadonlySignal<readonly Lane[]> {
  const kept = lanesKept()
  return atMoments(now, (moment) => (state.value ? kept(state.value, moment) : []))
}

type SheetProps = {
  readonly lanes: readonly Lane[]
  readonly now: ReadonlySignal<number>
  readonly isChoosing: boolean
  readonly onDone: () => void
}

/** While it is open it follows the time: what may be done, and how long ago, changes by the minute. */
function Sheet({ now, ...props }: SheetProps) {
  const { state } = useShop()
  if (!state.value) return null
  return <PassSheet state={state.value} now={now.value} {...props} />
}
