import { useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import type { SoundName } from '../../machines/bell/kinds.ts'
import { devicesOf } from '../../machines/devices/fold.ts'
import { isTaken } from '../commands/send.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { useHands } from '../device/handsfree.ts'
import {
  LEVEL_PAGE,
  LEVEL_STEP_DB,
  levelOf,
  setLevel,
  THEMES,
  type Theme,
} from '../device/settings.ts'
import { wantsWipe } from '../device/touchRules.ts'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { hashOf } from '../ui/route.ts'
import type { ViewProps } from '../ui/screen.tsx'
import * as levelWords from '../words/level.ts'
import * as meaningWords from '../words/meanings.ts'
import { setupIn } from '../words/setupIn.ts'
import { useOwnWords } from '../words/words.ts'
import { MEANINGS, Position } from './parts.tsx'

const SOUNDS: readonly SoundName[] = ['A', 'D', 'B1', 'B2', 'C1', 'C2']
const PLACE = 'place'
/** Half a per cent a press: the bar is to be within 2 mm of 100. */
const STEP = 1.005
const COARSE = 1.05
/** CSS says 96 px to the inch. */
const CSS_PX_PER_MM = 96 / 25.4

/** Setup of this one device: what its bells sound like, how large a millimeter is, light or dark. */
export function ThisKiosk({ kiosk, settings }: ViewProps) {
  const { words } = useShop()
  const level = useOwnWords(levelWords)
  return (
    <div class="columns">
      <Listen kiosk={kiosk} settings={settings} />
      <Level kiosk={kiosk} settings={settings}>
        <a class="button" href={hashOf('setup', LEVEL_PAGE)}>
          {level.title}
        </a>
      </Level>
      <Position settings={settings} />
      <Size settings={settings} />
      <Light settings={settings} />
      <ClockSteps />
      <section class="stack">
        <Press
          act="wipe"
          onPress={() => {
            wantsWipe.value = true
          }}
        >
          {words.value.wipe}
        </Press>
      </section>
      <CodesLink />
    </div>
  )
}

/** Plays each pattern on request and logs whether it was heard at a work position. */
function Listen({ kiosk, settings }: Pick<ViewProps, 'kiosk' | 'settings'>) {
  const { words } = useShop()
  const { sending, ask, clear } = useCommands()
  const played = useSignal<SoundName | null>(null)
  const place = useSignal(settings.kept(PLACE) ?? '')
  const setup = setupIn(words.value)
  const meanings = useOwnWords(meaningWords)
  const play = (sound: SoundName) => {
    clear()
    kiosk.speaker.play(sound)
    played.value = sound
  }
  const tell = async (heard: boolean) => {
    const at = place.value.trim()
    const pattern = played.value
    if (pattern === null) return
    const sent = await ask('TestSound', { pattern, heard, ...(at === '' ? {} : { place: at }) })
    if (isTaken(sent)) played.value = null
  }
  const { sent } = sending.value
  return (
    <section class="stack">
      <h2>{setup.listen}</h2>
      <label class="field">
        <span class="minor">{setup.place}</span>
        <input
          type="text"
          name="place"
          autocomplete="off"
          value={place.value}
          onInput={(e) => {
            place.value = e.currentTarget.value
            settings.keep(PLACE, place.value)
          }}
        />
      </label>
      <SoundButtons onPlay={play} />
      {played.value !== null && (
        <div class="choices" role="status">
          <p>{setup.heardAsk(setup.sounds[played.value])}</p>
          {[true, false].map((heard) => (
            <button
              type="button"
              key={String(heard)}
              data-heard={heard}
              disabled={sending.value.busy}
              onClick={() => void tell(heard)}
            >
              {heard ? setup.heard : setup.notHeard}
            </button>
          ))}
        </div>
      )}
      {sent !== null && isTaken(sent) && <p role="status">{setup.keptTest}</p>}
      <Answer sending={sending.value} now={0} />
      <a class="button" href={hashOf('setup', MEANINGS)}>
        {meanings.title}
      </a>
    </section>
  )
}

/** Each pattern once, on request. */
export function SoundButtons({ onPlay }: { onPlay: (sound: SoundName) => void }) {
  const setup = setupIn(useWords())
  return (
    <div class="choices">
      {SOUNDS.map((sound) => (
        <button type="button" key={sound} data-sound-test={sound} onClick={() => onPlay(sound)}>
          {setup.sounds[sound]}
        </button>
      ))}
    </div>
  )
}

type LevelProps = Pick<ViewProps, 'kiosk' | 'settings'> & { readonly children?: ComponentChildren }

/** As measured at the work positions when the kiosk was commissioned. */
export function Level({ kiosk, settings, children }: LevelProps) {
  const { words } = useShop()
  const level = useSignal(levelOf(settings))
  const setup = setupIn(words.value)
  const move = (by: number) => {
    level.value = setLevel(settings, kiosk.speaker, level.value + by)
  }
  return (
    <section class="stack" data-repeat>
      <h2>{setup.level}</h2>
      <div class="choices">
        <Press onPress={() => move(-LEVEL_STEP_DB)}>{setup.quieter}</Press>
        <Press onPress={() => move(LEVEL_STEP_DB)}>{setup.louder}</Press>
      </div>
      <p class="minor">{setup.decibels(level.value)}</p>
      {children}
    </section>
  )
}

function Size({ settings }: Pick<ViewProps, 'settings'>) {
  const { words, format } = useShop()
  const px = useSignal(settings.scale() ?? CSS_PX_PER_MM)
  const scaleBy = (factor: number) => {
    settings.setScale(px.value * factor)
    px.value = settings.scale() ?? px.value
  }
  const setup = setupIn(words.value)
  return (
    <section class="stack size" data-repeat>
      <h2>{setup.ruler}</h2>
      <div class="ruler" />
      <div class="choices">
        <Press onPress={() => scaleBy(1 / COARSE)}>− 5 mm</Press>
        <Press onPress={() => scaleBy(1 / STEP)}>− 0.5 mm</Press>
        <Press onPress={() => scaleBy(STEP)}>+ 0.5 mm</Press>
        <Press onPress={() => scaleBy(COARSE)}>+ 5 mm</Press>
      </div>
      <p class="minor">
        {settings.scale() === null ? `${setup.notMeasured} ` : ''}
        {setup.pxPerMm(format.value.number(px.value, 2))}
      </p>
    </section>
  )
}

function Light({ settings }: Pick<ViewProps, 'settings'>) {
  const { words } = useShop()
  const theme = useSignal(settings.theme())
  const choose = (name: Theme) => {
    settings.setTheme(name)
    theme.value = name
  }
  const setup = setupIn(words.value)
  return (
    <section class="stack">
      <h2>{setup.light}</h2>
      <div class="choices">
        {THEMES.map((name) => (
          <button
            type="button"
            key={name}
            aria-pressed={theme.value === name}
            onClick={() => choose(name)}
          >
            {setup.themes[name]}
          </button>
        ))}
      </div>
    </section>
  )
}

/** The way from Setup to the printable codes and the pedal, and whether the display may go dark. */
function CodesLink() {
  const { words } = useShop()
  const { awake } = useHands()
  return (
    <section class="stack">
      <a class="button" href={hashOf('codes')}>
        {words.value.handsfree.link}
      </a>
      <p class="minor" data-awake={awake.value}>
        {words.value.handsfree.display[awake.value]}
      </p>
    </section>
  )
}

/** How many of the newest are shown; the log has them all. */
const STEPS_MOST = 10

/** How the clock of the server's computer stepped of late, and what was confirmed; nothing where it did not. */
function ClockSteps() {
  const { state, words, format } = useShop()
  const steps = state.value ? devicesOf(state.value).clock.slice(-STEPS_MOST).toReversed() : []
  if (steps.length === 0) return null
  const { server } = words.value
  const dayTime = (ms: number) => `${format.value.fullDate(ms)} ${format.value.time(ms)}`
  return (
    <section class="stack" data-clock-steps={steps.length}>
      <h2>{server.steps}</h2>
      <ul>
        {steps.map(({ kind, at, fromMs, toMs }) => (
          <li key={`${at} ${fromMs} ${toMs}`}>
            {kind === 'jumped'
              ? server.stepJumped(dayTime(at), dayTime(fromMs), dayTime(toMs))
              : server.stepConfirmed(dayTime(at), dayTime(toMs))}
          </li>
        ))}
      </ul>
    </section>
  )
}
