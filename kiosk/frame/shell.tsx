import { type ReadonlySignal, useComputed } from '@preact/signals'
import { useEffect, useLayoutEffect, useMemo, useRef } from 'preact/hooks'
import { settingsOf } from '../../machines/shop/settings.ts'
import type { Speaker } from '../bells/sound/speaker.ts'
import { startedHere } from '../commands/presses.ts'
import { useShop } from '../commands/shop.ts'
import type { ClockReading } from '../device/clock.ts'
import { practiceOn } from '../device/practiceShop.ts'
import { type Kiosk, screenNow, stepOf } from '../device/runtime.ts'
import { levelOf, type Settings } from '../device/settings.ts'
import { listenForTouches, wantsWipe } from '../device/touchRules.ts'
import { atMoments, type Moment } from '../lanes/moment.ts'
import { again } from '../ui/again.ts'
import { UndoBar } from '../ui/answer.tsx'
import { OutboxStatus } from '../ui/outboxParts.tsx'
import { noteTouches } from '../ui/quiet.ts'
import { hashOf, type Route } from '../ui/route.ts'
import { Guarded, later, type View } from '../ui/screen.tsx'
import { secondsOrLength } from '../units/format.ts'
import type { Words } from '../words/en.ts'
import { ArmedStarts } from './armedStarts.tsx'
import { BellDock } from './bellDock.tsx'
import { BreathingLine, ClimateLine, HandsSaid, NoSound } from './lines.tsx'
import { NotKnown } from './notKnown.tsx'
import { ServerTrouble, serverNotices } from './serverTrouble.tsx'
import { Takeover, takesOver } from './takeover.tsx'
import { Who } from './who.tsx'

/** A screen: add one to the list in screens.ts and it appears in the navigation. */
export type Screen = { readonly View: View } & (
  | { readonly path: keyof Words['screens'] }
  /** Reached from another screen, which the navigation shows as the present one. */
  | { readonly path: string; readonly under: keyof Words['screens'] }
  /** The view through the booth's window has no frame: nobody can touch what it would hold. */
  | { readonly path: 'booth'; readonly isBare: true }
)
type Framed = Exclude<Screen, { readonly isBare: true }>
const presentOf = (screen: Framed) => ('under' in screen ? screen.under : screen.path)
const titleOf = (screen: Screen, words: Words): string =>
  'isBare' in screen ? words.board.booth : words.screens[presentOf(screen)]
const inNavigation = (screen: Screen) => ('under' in screen || 'isBare' in screen ? [] : [screen])

type ShellProps = {
  readonly kiosk: Kiosk
  readonly settings: Settings
  readonly route: ReadonlySignal<Route>
  /** The first is shown where the route names none. */
  readonly screens: readonly [Screen, ...Screen[]]
}

/** Fetched by a practice shop alone. */
const PracticeBar = later<{ readonly isWhole: boolean }>(
  async () => (await again(() => import('../ui/practice.tsx'))).PracticeBar,
)
/** Fetched with what else may stand above a screen, once the Wall stands. */
const Wipe = later(async () => (await serverNotices()).Wipe)

const STARTS = 'startedHere'
const HELP = 'help'
const MINUTE_MS = 60_000

export function Shell({ kiosk, settings, route, screens }: ShellProps) {
  const { state, words } = useShop()
  const { screen, rest } = route.value
  const shown = screens.find((s) => s.path === screen) ?? screens[0]
  const isWall = shown === screens[0]
  const page = useRef<HTMLElement>(null)
  const over = takesOver(kiosk)
  const language = state.value ? settingsOf(state.value).language : undefined
  useEffect(() => {
    document.documentElement.lang = language ?? 'en'
  }, [language])
  const path = [screen, ...rest].join('/')
  const lastPath = useRef(path)
  // A new page begins at its top, not as far down as the last one was: before it is seen. The first is there
  // already, and asked for it a browser would lay it out on the spot, before the rest is in place.
  useLayoutEffect(() => {
    if (lastPath.current !== path) {
      page.current?.scrollTo({ top: 0 })
      // What was pressed is gone with the last page: Tab goes on from here, and not from the top of all.
      if (document.activeElement === document.body) page.current?.focus({ preventScroll: true })
    }
    lastPath.current = path
  }, [path])
  useEffect(() => listenForTouches(window), [])
  useEffect(() => noteTouches(window), [])
  useEffect(() => keepStarts(settings), [])
  useEffect(() => kiosk.speaker.setLevelDb(levelOf(settings)), [])
  return (
    <>
      <div class="shell" data-screen={shown.path} inert={over !== null}>
        {!('isBare' in shown) && (
          <Head kiosk={kiosk} settings={settings} screens={screens} shown={shown} />
        )}
        {(isWall || 'isBare' in shown) && practiceOn(document) && <PracticeBar isWhole={isWall} />}
        <NoSound kiosk={kiosk} isLarge={isWall} />
        <OutboxStatus />
        <ServerTrouble kiosk={kiosk} />
        <HandsSaid now={screenNow(kiosk)} />
        {state.value && <NotKnown kiosk={kiosk} state={state.value} />}
        <BreathingLine kiosk={kiosk} />
        <main ref={page} tabIndex={-1}>
          <h1 class="unseen">{titleOf(shown, words.value)}</h1>
          <Guarded key={screen}>
            <shown.View kiosk={kiosk} settings={settings} rest={rest} />
          </Guarded>
          {!isWall && !('isBare' in shown) && shown.path !== HELP && (
            <a class="button to-help" data-act="help" href={hashOf(HELP, shown.path, ...rest)}>
              {words.value.board.help}
            </a>
          )}
        </main>
        <Dock kiosk={kiosk} settings={settings} />
      </div>
      {over && state.value && <Over kiosk={kiosk} />}
      {wantsWipe.value && <Wipe />}
    </>
  )
}

/** Whose prompts wait is still known after a reload. */
function keepStarts(settings: Settings): () => void {
  const kept = (settings.kept(STARTS) ?? '').split(' ').filter((id) => id !== '')
  if (startedHere.peek().length === 0) startedHere.value = kept
  return startedHere.subscribe((all) => settings.keep(STARTS, all.join(' ')))
}

type HeadProps = Pick<ShellProps, 'kiosk' | 'settings' | 'screens'> & { readonly shown: Framed }

function Head({ kiosk, settings, screens, shown }: HeadProps) {
  const { words, state } = useShop()
  const present = presentOf(shown)
  return (
    <header>
      <div class="status">
        <Now kiosk={kiosk} isWall={shown.path === 'wall'} />
        <ClimateLine now={screenNow(kiosk)} />
        <Lamp speaker={kiosk.speaker} />
        {state.value && <Who state={state.value} settings={settings} />}
      </div>
      <nav>
        {screens.flatMap(inNavigation).map(({ path }) => (
          <a
            class="button"
            key={path}
            href={hashOf(path)}
            aria-current={path === present ? 'page' : undefined}
          >
            {words.value.screens[path]}
          </a>
        ))}
      </nav>
    </header>
  )
}

/** What rings and what was just pressed, within reach of the hand, on every screen. */
function Dock({ kiosk, settings }: Pick<ShellProps, 'kiosk' | 'settings'>) {
  const { state, words } = useShop()
  const now = screenNow(kiosk)
  if (!state.value) return null
  return (
    <section class="dock" aria-label={words.value.board.dock}>
      <BellDock kiosk={kiosk} state={state.value} now={now} />
      <ArmedStarts state={state.value} now={now} settings={settings} />
      <UndoBar now={now} />
    </section>
  )
}

function Over({ kiosk }: Pick<ShellProps, 'kiosk'>) {
  const { state } = useShop()
  const card = takesOver(kiosk)
  if (card === null || !state.value) return null
  const now = screenNow(kiosk).value
  return <Takeover key={card.key} card={card} kiosk={kiosk} state={state.value} now={now} />
}

/** What is to be said of the kiosk's clock beside it, or nothing. */
function clockNote({ sync, warns, differenceMs, deviceOffsetMs }: ClockReading, words: Words) {
  const { notSynchronised, clockOff } = words.board
  if (sync === 'notSynchronised') return notSynchronised
  // In a practice shop a moment on the way is ten moments on the clock: it is off, and it is nothing.
  if (!warns || practiceOn(document) !== null) return null
  return clockOff(secondsOrLength(Math.max(Math.abs(differenceMs), Math.abs(deviceOffsetMs))))
}

/** The minute that it is in, UTC ms. */
function minuteOf(moment: Moment): number {
  const minute = stepOf(moment.ms, MINUTE_MS)
  for (const at of [minute, minute + MINUTE_MS]) moment.isPast(at)
  return minute
}

function Now({ kiosk, isWall }: { readonly kiosk: Kiosk; readonly isWall: boolean }) {
  const { format, words } = useShop()
  const now = screenNow(kiosk)
  const minute = useMemo(() => atMoments(now, minuteOf), [now])
  const isUnsure = useComputed(() => kiosk.known.value.sync === 'notSynchronised').value
  const note = useComputed(() => clockNote(kiosk.known.value, words.value)).value
  // The Wall has a bar for it.
  const practice = isWall ? null : practiceOn(document)
  return (
    <div class="now">
      <time class="digits">{format.value.time(minute.value)}</time>
      {practice !== null && (
        <p data-practice>
          <b>{words.value.practice.inHead(practice.speed)}</b>
        </p>
      )}
      {note !== null && (
        <p class="minor" role={isUnsure ? 'status' : undefined}>
          {note}
        </p>
      )}
    </div>
  )
}

function Lamp({ speaker }: { speaker: Speaker }) {
  const { words } = useShop()
  return (
    <button
      type="button"
      class="lamp"
      data-sound={speaker.sound.value}
      onClick={() => void speaker.wake()}
    >
      <svg viewBox="0 0 16 16" aria-hidden="true">
        {speaker.soundReady.value ? (
          <path d="M6 1h8v10.500a2.500 2.500 0 1 1-2-2.400V4H8v9.500a2.500 2.500 0 1 1-2-2.400z" />
        ) : (
          <path d="M2 3.500 3.500 2 14 12.500 12.500 14zM1 6h3l4-4v12l-4-4H1z" />
        )}
      </svg>
      {words.value.board.sound[speaker.sound.value]}
    </button>
  )
}
