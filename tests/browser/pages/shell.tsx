import { render } from 'preact'
import { routeOf } from '../../../kiosk/route.ts'
import { startKiosk } from '../../../kiosk/runtime.ts'
import { ThisKiosk } from '../../../kiosk/screen/thisKiosk.tsx'
import { settings } from '../../../kiosk/settings.ts'
import { type Screen, Shell } from '../../../kiosk/shell.tsx'
import { workerTicks } from '../../../kiosk/ticker.ts'
import { BELLS, type BellKind } from '../../../machines/bell/kinds.ts'

/** The frame with all seven screens in its navigation, and every bell's chip in every state. */

const kinds = Object.keys(BELLS) as BellKind[]
function Chips() {
  return (
    <div class="choices">
      {kinds.flatMap((kind) =>
        ['acknowledged', 'sounding'].map((state) => (
          <div
            key={kind + state}
            class="bell"
            data-sound={BELLS[kind].sound}
            data-state={state}
            style={{ padding: '8px 12px', fontWeight: 700 }}
          >
            {kind} {state}
          </div>
        )),
      )}
      <p class="digits">0O 1Il 8B 12:07 −30 min 4:10 · 23.4 °C</p>
    </div>
  )
}

const words = ['Wall', 'Bench', 'Jobs', 'Scan', 'Trace', 'Records']
const screens: readonly [Screen, ...Screen[]] = [
  { path: 'setup', word: 'Setup', View: ThisKiosk },
  ...words.map((word) => ({ path: word.toLowerCase(), word, View: Chips })),
]
const own = settings(localStorage, document.documentElement)
const kiosk = startKiosk({
  sample: () => ({ monotonicMs: performance.now(), deviceMs: Date.now() }),
  rememberedOffsetMs: own.clockOffsetMs(),
  wait: (ms) => new Promise((done) => setTimeout(done, ms)),
  ticks: workerTicks('/tick.js'),
  audio: new AudioContext(),
  soundsHere: () => true,
  tell: () => {},
})
declare global {
  interface Window {
    heard: (serverAtMs: number) => void
  }
}
window.heard = kiosk.clock.heard

const root = document.querySelector('#kiosk')
if (root) render(<Shell {...{ kiosk, screens }} settings={own} route={routeOf(window)} />, root)
