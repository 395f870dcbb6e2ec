import { useSignal } from '@preact/signals'
import type { SoundName } from '../../machines/bell/kinds.ts'
import { CodesLink } from '../handsfree/codesLink.tsx'
import { THEMES, type Theme } from '../settings.ts'
import type { ViewProps } from '../shell.tsx'

const SOUNDS: readonly (readonly [SoundName, string])[] = [
  ['A', 'Next coat may go on'],
  ['D', 'Cure is over'],
  ['B1', 'Pot life near'],
  ['B2', 'Pot life over'],
  ['C1', 'Window closing'],
  ['C2', 'Window shut'],
]
const THEME_WORD: Record<Theme, string> = { auto: 'As the device', light: 'Light', dark: 'Dark' }
/** Half a per cent a press: the bar is to be within 2 mm of 100. */
const STEP = 1.005
const COARSE = 1.05
/** CSS says 96 px to the inch. */
const CSS_PX_PER_MM = 96 / 25.4

/** Setup of this one device: what its bells sound like, how large a millimetre is, light or dark. */
export function ThisKiosk({ kiosk, settings }: ViewProps) {
  return (
    <div class="columns">
      <section class="stack">
        <h2>Listen to each bell at every work position</h2>
        <div class="choices">
          {SOUNDS.map(([sound, word]) => (
            <button type="button" key={sound} onClick={() => kiosk.speaker.play(sound)}>
              {word}
            </button>
          ))}
        </div>
      </section>
      <Size settings={settings} />
      <Light settings={settings} />
      <CodesLink />
    </div>
  )
}

function Size({ settings }: Pick<ViewProps, 'settings'>) {
  const px = useSignal(settings.scale() ?? CSS_PX_PER_MM)
  const scaleBy = (factor: number) => {
    settings.setScale(px.value * factor)
    px.value = settings.scale() ?? px.value
  }
  return (
    <section class="stack size">
      <h2>Make this bar 100 mm long, by a ruler</h2>
      <div class="ruler" />
      <div class="choices">
        <button type="button" onClick={() => scaleBy(1 / COARSE)}>
          − 5 mm
        </button>
        <button type="button" onClick={() => scaleBy(1 / STEP)}>
          − 0.5 mm
        </button>
        <button type="button" onClick={() => scaleBy(STEP)}>
          + 0.5 mm
        </button>
        <button type="button" onClick={() => scaleBy(COARSE)}>
          + 5 mm
        </button>
      </div>
      <p class="minor">
        {settings.scale() === null ? 'Not measured yet: ' : ''}
        {px.value.toFixed(2)} px in a millimetre
      </p>
    </section>
  )
}

function Light({ settings }: Pick<ViewProps, 'settings'>) {
  const theme = useSignal(settings.theme())
  const choose = (name: Theme) => {
    settings.setTheme(name)
    theme.value = name
  }
  return (
    <section class="stack">
      <h2>Light or dark</h2>
      <div class="choices">
        {THEMES.map((name) => (
          <button
            type="button"
            key={name}
            aria-pressed={theme.value === name}
            onClick={() => choose(name)}
          >
            {THEME_WORD[name]}
          </button>
        ))}
      </div>
    </section>
  )
}
