import { type ReadonlySignal, useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { useMemo } from 'preact/hooks'
import { mixedRatio } from '../../machines/cup/ratio.ts'
import type { State } from '../../machines/state.ts'
import { useShop, useUnprinted } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { type CupView, cupsOf, type GunView, loadedGunsOf, type TimeLeft } from '../lanes/cups.ts'
import { atMoments } from '../lanes/moment.ts'
import { type Coming, nextLine, nextUp } from '../lanes/nextUp.ts'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { Ring, Shape } from '../ui/drawings.tsx'
import { hashOf } from '../ui/route.ts'
import { shortLength } from '../units/format.ts'

/** Cups and guns beside what comes next; the others on a touch. */
const CARDS_MOST = 4
const MINUTE_MS = 60_000

type FootProps = {
  readonly now: ReadonlySignal<number>
  /** What the marks of the lanes stand for. */
  readonly legend: string
  /** What is not for one lane alone. */
  readonly children?: ComponentChildren
}

/** Under the lanes: cups as clock rings, guns with material, what comes next. */
export function Foot({ now, legend, children }: FootProps) {
  const { words, state } = useShop()
  const isOpen = useSignal(false)
  const shownNow = useMemo(
    () =>
      atMoments(now, (at) => {
        if (!state.value) return null
        const cups = cupsOf(state.value, at)
        const guns = loadedGunsOf(state.value, at)
        return { state: state.value, cups, guns, next: nextUp(state.value, at), nowMs: at.ms }
      }),
    [now, state],
  ).value
  if (shownNow === null) return null
  const { cups, guns, next, nowMs } = shownNow
  const cards = [
    ...cups.map((view) => ({ key: view.id, endsAt: view.endsAt, view })),
    ...guns.map((gun) => ({ key: gun.id, endsAt: gun.endsAt, gun })),
  ].sort((a, b) => (a.endsAt ?? Number.MAX_VALUE) - (b.endsAt ?? Number.MAX_VALUE))
  const isMany = cards.length > CARDS_MOST
  const shown = isMany && !isOpen.value ? cards.slice(0, CARDS_MOST - 1) : cards
  return (
    <div class={isOpen.value ? 'foot open' : 'foot'}>
      <div class="cards">
        {shown.map((card) =>
          'view' in card ? (
            <CupCard key={card.key} view={card.view} now={nowMs} />
          ) : (
            <GunCard key={card.key} gun={card.gun} now={now} />
          ),
        )}
        {isMany && (
          <button
            type="button"
            class="rest"
            aria-expanded={isOpen.value}
            onClick={() => {
              isOpen.value = !isOpen.value
            }}
          >
            {isOpen.value
              ? words.value.board.fewer
              : words.value.board.moreCups(cards.length - shown.length)}
          </button>
        )}
      </div>
      <Next state={shownNow.state} lines={next} legend={legend} now={nowMs} />
      {children}
    </div>
  )
}

const SOUND_OF = {
  potNear: 'B1',
  potOver: 'B2',
  keepUntil: 'B1',
  gunNear: 'B1',
  gunDue: 'B1',
} as const
type Sound = (typeof SOUND_OF)[keyof typeof SOUND_OF]

function timeLeft({ isOver, minutes }: TimeLeft, over: (text: string) => string): string {
  const length = shortLength(minutes * MINUTE_MS)
  return isOver ? over(length) : length
}

type LeftProps = { readonly text: string; readonly sound: Sound | undefined; isWords?: boolean }

/** What is left, in the bell's color and shape where one rings. */
const Left = ({ text, sound, isWords = false }: LeftProps) => (
  <span class={`left ${isWords ? 'words' : 'digits'}${sound ? ' bell' : ''}`} data-sound={sound}>
    {sound && <Shape sound={sound} />}
    {text}
  </span>
)

function CupCard({ view, now }: { view: CupView; now: number }) {
  const { words, format } = useShop()
  const { wall } = words.value
  const isUnprinted = useUnprinted().includes(view.id)
  const bell = view.bell?.bell
  const sound = bell && bell in SOUND_OF ? SOUND_OF[bell as keyof typeof SOUND_OF] : undefined
  const kept = view.keepsUntil
  const left =
    view.time === null
      ? kept === null
        ? '—'
        : wall.keepUntil(format.value.date(kept, now))
      : timeLeft(view.time, wall.over)
  const about = [
    `${words.value.stage[view.cup.stage]} ${mixedRatio(view.cup)}`,
    view.cup.colour,
    // A figure and its unit stay on one line.
    format.value.volume(view.cup.totalMl).replaceAll(' ', '\u00a0'),
    view.stands ? wall.stands : null,
    isUnprinted
      ? null
      : view.cup.prints.length === 0
        ? wall.noLabel
        : view.labelReadsLate
          ? wall.readsLate
          : null,
  ]
  return (
    <a class="cup" href={hashOf('scan', view.id)} data-cup={view.id}>
      <Ring left={view.left} />
      <span>
        <Left text={left} sound={sound} isWords={view.endsAt === null} />
        <b class="digits">{view.id.slice(0, 4)}</b>
        <span class="minor">{about.filter((text) => text !== null).join(' · ')}</span>
        {view.isOff && <strong>{wall.offRatio}</strong>}
        {isUnprinted && <strong>{wall.unprinted}</strong>}
      </span>
    </a>
  )
}

function GunCard({ gun, now }: { gun: GunView; now: ReadonlySignal<number> }) {
  const { words } = useShop()
  const { sending, ask } = useCommands()
  const about = [gun.holds, gun.colour, gun.isDirty ? words.value.states.gun.dirty : null]
  return (
    <div class="gun" data-gun={gun.id}>
      <span>
        <b>{gun.name}</b>
        <span class="minor">{about.filter((text) => text !== null).join(' · ')}</span>
        {gun.time !== null && (
          <Left
            text={timeLeft(gun.time, words.value.wall.over)}
            sound={gun.bell ? 'B1' : undefined}
          />
        )}
        <Answer sending={sending.value} now={now} />
      </span>
      <Press
        act="CleanGun"
        isOff={sending.value.busy}
        onPress={() => ask('CleanGun', { gun: gun.id })}
      >
        {words.value.act.cleanGun}
      </Press>
    </div>
  )
}

type NextProps = {
  readonly state: State
  readonly lines: readonly Coming[]
  readonly legend: string
  /** UTC ms; which day is today. */
  readonly now: number
}

/** What comes next, in order of time, across all jobs. */
function Next({ state, lines, legend, now }: NextProps) {
  const { words, format } = useShop()
  return (
    <section class="next">
      <h2 class="minor">
        {words.value.wall.next}
        {legend !== '' && <small class="legend">{legend}</small>}
      </h2>
      {lines.length === 0 && <p class="minor">{words.value.wall.nothingNext}</p>}
      <ol>
        {lines.map((d) => (
          <li key={d.key}>
            <b class="digits">
              {d.isDue ? words.value.wall.now : format.value.timeAndDay(d.dueAt, now)}
            </b>{' '}
            {nextLine(state, d, words.value)}
          </li>
        ))}
      </ol>
    </section>
  )
}
