import { expect, test } from 'vitest'
import { screenNow, startKiosk } from '../../kiosk/device/runtime.ts'

const SERVER_MS = Date.UTC(2026, 10, 25, 8)

/** A kiosk whose page does not tick: only what it is told moves its screens. */
function stillKiosk() {
  let monotonicMs = 1_000
  const kiosk = startKiosk({
    sample: () => ({ monotonicMs, deviceMs: SERVER_MS + monotonicMs }),
    rememberedOffsetMs: 0,
    wait: () => new Promise(() => {}),
    ticks: () => ({ stop: () => {}, soon: () => {} }),
    audio: () => {
      throw new Error('nothing sounds here')
    },
    soundsHere: () => true,
    tell: () => {},
  })
  kiosk.hear(SERVER_MS, false)
  return {
    kiosk,
    now: screenNow(kiosk),
    pass: (ms: number) => {
      monotonicMs += ms
    },
    /** As when an entry comes: what may ring is reckoned anew. */
    change: () => {
      kiosk.open.value = { ...kiosk.open.value }
    },
  }
}

test('what was read a moment ago is not after what the screens show', () => {
  const { kiosk, now, pass, change } = stillKiosk()
  expect(now.value).toBe(SERVER_MS)
  pass(320)
  expect(now.value).toBe(SERVER_MS)
  change()
  expect(now.value).toBe(SERVER_MS + 320)
  kiosk.stop()
})

test('a time that was shown for it is not kept when the clock is put back', () => {
  const { kiosk, now, pass, change } = stillKiosk()
  pass(320)
  change()
  kiosk.hear(SERVER_MS - 3_600_000, true)
  expect(now.value).toBe(SERVER_MS - 3_600_000)
  kiosk.stop()
})
