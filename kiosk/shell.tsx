import type { ReadonlySignal } from '@preact/signals'
import type { ComponentType } from 'preact'
import { OutboxStatus } from './outbox/status.tsx'
import { hashOf, type Route } from './route.ts'
import type { Kiosk } from './runtime.ts'
import type { Settings } from './settings.ts'
import { useShop } from './shop/context.ts'
import type { SoundState, Speaker } from './sound/speaker.ts'
import { ClimateLine } from './wall/climateLine.tsx'
import type { Words } from './words/en.ts'

export type ViewProps = {
  readonly kiosk: Kiosk
  readonly settings: Settings
  /** What the route says after the screen's name. */
  readonly rest: readonly string[]
}

/** A screen: add one to the list in screens.ts and it stands in the navigation. */
export type Screen = { readonly View: ComponentType<ViewProps> } & (
  | { readonly path: keyof Words['screens'] }
  /** Reached from another screen, which the navigation shows as the present one. */
  | { readonly path: string; readonly under: keyof Words['screens'] }
)
const inNavigation = (screen: Screen) => ('under' in screen ? [] : [screen])

export type ShellProps = {
  readonly kiosk: Kiosk
  readonly settings: Settings
  readonly route: ReadonlySignal<Route>
  /** The first is shown where the route names none. */
  readonly screens: readonly [Screen, ...Screen[]]
}

export function Shell({ kiosk, settings, route, screens }: ShellProps) {
  const { words } = useShop()
  const { screen, rest } = route.value
  const shown = screens.find((s) => s.path === screen) ?? screens[0]
  const present = 'under' in shown ? shown.under : shown.path
  return (
    <div class="shell">
      <header>
        <Now kiosk={kiosk} />
        <ClimateLine now={kiosk.reading.value.nowMs} />
        <Lamp speaker={kiosk.speaker} />
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
      <NoSound speaker={kiosk.speaker} />
      <OutboxStatus />
      <main>
        <shown.View kiosk={kiosk} settings={settings} rest={rest} />
      </main>
    </div>
  )
}

function Now({ kiosk: { reading } }: { kiosk: Kiosk }) {
  const { format } = useShop()
  const { nowMs, sync, warns, differenceMs, deviceOffsetMs } = reading.value
  const offMs = Math.abs(differenceMs) > Math.abs(deviceOffsetMs) ? differenceMs : deviceOffsetMs
  return (
    <div class="now">
      <time class="digits">{format.value.time(nowMs)}</time>
      {sync === 'notSynchronised' ? (
        <p class="minor" role="status">
          not synchronised
        </p>
      ) : (
        warns && <p class="minor">clock {Math.round(Math.abs(offMs) / 1000)} s off</p>
      )}
    </div>
  )
}

const LAMP: Record<SoundState, string> = {
  starting: 'sound?',
  ready: 'bell on',
  silent: 'NO SOUND',
}

function Lamp({ speaker }: { speaker: Speaker }) {
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
      {LAMP[speaker.sound.value]}
    </button>
  )
}

function NoSound({ speaker }: { speaker: Speaker }) {
  if (speaker.sound.value !== 'silent') return null
  return (
    <div role="alert">
      <button type="button" class="no-sound" onClick={() => void speaker.wake()}>
        NO SOUND – touch to enable
      </button>
    </div>
  )
}
