import { effect } from '@preact/signals'
import { render } from 'preact'
import { routeOf } from './route.ts'
import { startKiosk } from './runtime.ts'
import { SCREENS } from './screens.ts'
import { settings } from './settings.ts'
import { Shell } from './shell.tsx'
import { workerTicks } from './ticker.ts'

/** The page's composition root: the only place that makes real clocks, sound and timers. */

const WORTH_KEEPING_MS = 500
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

// What a page needs to know of the time when it is loaded while the server is away.
effect(() => {
  const { sync, deviceOffsetMs } = kiosk.reading.value
  const isOff = Math.abs(deviceOffsetMs - own.clockOffsetMs()) > WORTH_KEEPING_MS
  if (sync === 'synchronised' && isOff) own.setClockOffsetMs(deviceOffsetMs)
})
// Any touch may wake the sound: a browser gives it only within one.
for (const gesture of ['pointerup', 'keydown'])
  addEventListener(gesture, () => {
    if (!kiosk.speaker.soundReady.value) void kiosk.speaker.wake()
  })
// Capture: the touch is heard before what it starts, which may be a bell.
addEventListener(
  'click',
  ({ target }) => {
    if (target instanceof Element && target.closest('button, a')) kiosk.speaker.touch('ok')
  },
  { capture: true },
)

const root = document.getElementById('kiosk')
if (root === null) throw new Error('The page has no element #kiosk to draw in.')
render(<Shell kiosk={kiosk} settings={own} route={routeOf(window)} screens={SCREENS} />, root)
