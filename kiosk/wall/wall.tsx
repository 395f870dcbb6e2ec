import { useSignal } from '@preact/signals'
import type { State } from '../../machines/state.ts'
import { hashOf } from '../route.ts'
import type { ViewProps } from '../shell.tsx'
import { useShop } from '../shop/context.ts'
import { shortLength } from '../shop/format.ts'
import { ActSheet } from './actSheet.tsx'
import { BellCards } from './bellCards.tsx'
import { chipOf } from './chip.ts'
import { type CupView, cupsOf, type GunView, loadedGunsOf } from './cups.ts'
import { Next } from './next.tsx'
import { Ring } from './ring.tsx'
import { Shape } from './shape.tsx'
import { Scale, Timeline } from './timeline.tsx'
import { type Lane, lanesOf } from './view.ts'

/** All that is running: lanes of panels, cups and guns, what comes next. */
export function Wall({ kiosk }: ViewProps) {
  const { state, words } = useShop()
  const chosen = useSignal<string | null>(null)
  const now = kiosk.reading.value.nowMs
  if (!state.value) return <p class="minor">…</p>
  const lanes = lanesOf(state.value, now)
  const lane = lanes.find((l) => l.panel === chosen.value)
  const toggle = (panel: string) => {
    chosen.value = chosen.value === panel ? null : panel
  }
  return (
    <div class="wall">
      <BellCards kiosk={kiosk} state={state.value} />
      {lanes.length === 0 ? <Empty /> : <Scale words={words.value} />}
      <ul class="lanes">
        {lanes.map((l) => (
          <LaneRow
            key={l.panel}
            lane={l}
            now={now}
            isChosen={l === lane}
            onTouch={() => toggle(l.panel)}
          />
        ))}
      </ul>
      {lane && (
        <ActSheet
          key={lane.panel}
          state={state.value}
          lane={lane}
          now={now}
          onDone={() => {
            chosen.value = null
          }}
        />
      )}
      <Foot state={state.value} now={now} />
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
    </section>
  )
}

type RowProps = {
  readonly lane: Lane
  readonly now: number
  readonly isChosen: boolean
  readonly onTouch: () => void
}

function LaneRow({ lane, now, isChosen, onTouch }: RowProps) {
  const { words } = useShop()
  const chip = chipOf(lane, words.value, now)
  const stage = lane.stage === null ? '' : words.value.stage[lane.stage]
  const coats =
    lane.coatsPlanned > 0 ? words.value.wall.coats(stage, lane.coatsOn, lane.coatsPlanned) : stage
  const notes = [
    lane.isPaused ? words.value.wall.paused : '',
    lane.isBlind ? words.value.wall.blind : '',
  ].filter((note) => note !== '')
  return (
    <li>
      <button
        type="button"
        class="lane"
        data-panel={lane.panel}
        data-waits={lane.waits.for}
        aria-pressed={isChosen}
        onClick={onTouch}
      >
        <span class="who">
          <b>{lane.name}</b>
          <span class="minor">{[lane.jobTitle, coats, ...notes].join(' · ')}</span>
        </span>
        <span class={chip.sound ? 'chip bell' : 'chip'} data-sound={chip.sound ?? undefined}>
          <span class={chip.isCountdown ? 'big digits' : 'big'}>
            {chip.sound && !chip.isCountdown && <Shape sound={chip.sound} />}
            {chip.big}
          </span>
          <span class="small">{chip.small}</span>
        </span>
        <Timeline lane={lane} now={now} words={words.value} />
      </button>
    </li>
  )
}

function Foot({ state, now }: { state: State; now: number }) {
  const { words } = useShop()
  const cups = cupsOf(state, now)
  const guns = loadedGunsOf(state, now)
  return (
    <div class="foot">
      {cups.map((view) => (
        <CupCard key={view.id} view={view} now={now} />
      ))}
      {cups.length === 0 && (
        <a class="button" href={hashOf('bench')}>
          {words.value.wall.mix}
        </a>
      )}
      {guns.map((gun) => (
        <GunCard key={gun.id} gun={gun} now={now} />
      ))}
      <Next state={state} now={now} />
    </div>
  )
}

const SOUND_OF = { potNear: 'B1', potOver: 'B2', keepUntil: 'B1', gunDue: 'B1' } as const

function timeLeft(endsAt: number | null, now: number, over: (text: string) => string): string {
  if (endsAt === null) return ''
  return now >= endsAt ? over(shortLength(now - endsAt)) : shortLength(endsAt - now)
}

function CupCard({ view, now }: { view: CupView; now: number }) {
  const { words, format } = useShop()
  const { wall } = words.value
  const bell = view.bell?.bell
  const sound = bell && bell in SOUND_OF ? SOUND_OF[bell as keyof typeof SOUND_OF] : undefined
  const stands = view.standsUntil !== null && now < view.standsUntil
  const left =
    view.endsAt === null
      ? view.cup.keepUntilMs === null
        ? '—'
        : wall.keepUntil(format.value.date(view.cup.keepUntilMs))
      : timeLeft(view.endsAt, now, wall.over)
  return (
    <a class="cup" href={hashOf('scan', view.id)} data-cup={view.id}>
      <Ring left={view.left} />
      <span>
        <span
          class={`left ${view.endsAt === null ? 'words' : 'digits'}${sound ? ' bell' : ''}`}
          data-sound={sound}
        >
          {left}
        </span>
        <b class="digits">{view.id.slice(0, 4)}</b>
        <span class="minor">
          {[
            `${words.value.stage[view.cup.stage]} ${view.cup.ratio}`,
            view.cup.colour,
            format.value.volume(view.cup.totalMl),
            stands ? wall.stands : null,
            view.labelReadsLate ? wall.readsLate : null,
          ]
            .filter((text) => text !== null)
            .join(' · ')}
        </span>
      </span>
    </a>
  )
}

function GunCard({ gun, now }: { gun: GunView; now: number }) {
  const { words, send } = useShop()
  return (
    <div class="gun" data-gun={gun.id}>
      <b>{gun.name}</b>
      <span class="minor">{[gun.holds, gun.colour].filter((t) => t !== null).join(' · ')}</span>
      <span
        class={gun.bell ? 'left digits bell' : 'left digits'}
        data-sound={gun.bell ? 'B1' : undefined}
      >
        {timeLeft(gun.endsAt, now, words.value.wall.over)}
      </span>
      <button type="button" onClick={() => void send('CleanGun', { gun: gun.id })}>
        {words.value.act.cleanGun}
      </button>
    </div>
  )
}
